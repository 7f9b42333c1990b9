// Package cache keeps what models have solved of propellers in files of one folder, for later
// runs and for other processes at the same time. It is a model.Store.
//
// A file has what was solved of some inputs, with these and a checksum, under the SHA-256 of the
// inputs. It takes its place whole, and one that is not what its name says is as none: it is
// written anew. Nothing is locked: two processes that solve the same write the same bytes. When
// the files come to more than a bound, those that have been read least lately are removed.
//
// A folder is believed as the program is: whoever can write there can make up results.
package cache

import (
	"bytes"
	"crypto/sha256"
	"encoding/binary"
	"encoding/hex"
	"errors"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"sync"
	"time"

	"rotorsieve/model"
	"rotorsieve/sweep/whole"
)

// Most is what the files of a folder come to at most, in bytes; for a moment each process may
// have a sixteenth more. A propeller takes about 33 kB, and 110 kB where builds are chosen over
// draws by their flight.
const Most = 256 << 20

// mostOfFile bounds a file, far above any that is written.
const mostOfFile = 4 << 20

// Folder is a folder of kept files. It is safe for use by several goroutines and processes.
type Folder struct {
	path     string
	most     int64
	readOnly bool
	write    func(path string, write func(io.Writer) error) error
	now      func() time.Time

	mu     sync.Mutex
	held   map[string][]byte // by inputs: what a folder that is left as it is would have
	since  int64             // bytes written since files were last counted, or held
	failed error             // why a file could not be written: no more are
}

var _ model.Store = (*Folder)(nil)

// Open takes a folder to keep files in. It need not exist where the one that it stands in does,
// and is made when there is something to keep. The error is the system's without the path, or
// says what is there in place of a folder: it cannot be written.
func Open(path string) (*Folder, error) {
	f := &Folder{path: path, most: Most, write: whole.WriteLight, now: time.Now}
	f.since = f.step() // a process that writes begins by counting
	in := path
	about, err := os.Stat(path)
	if errors.Is(err, fs.ErrNotExist) {
		in = filepath.Dir(path)
		about, err = os.Stat(in)
	}
	if err == nil && !about.IsDir() {
		err = errors.New("is no folder")
	}
	if err == nil {
		err = writable(in)
	}
	if err != nil {
		return nil, cause(err)
	}
	return f, nil
}

// writable errs where no file can be made in a folder.
func writable(folder string) error {
	t, err := os.CreateTemp(folder, ".rotorsieve")
	if err != nil {
		return err
	}
	return errors.Join(t.Close(), os.Remove(t.Name()))
}

// ReadOnly has the folder left as it is: what is saved is held in memory, up to a part of what
// the folder would hold.
func (f *Folder) ReadOnly() { f.readOnly, f.held, f.since = true, map[string][]byte{}, 0 }

// hold is Save of a folder that is left as it is.
func (f *Folder) hold(inputs, solved []byte) {
	f.mu.Lock()
	defer f.mu.Unlock()
	if f.since += int64(len(solved)); f.since <= f.most/64 {
		f.held[string(inputs)] = bytes.Clone(solved)
	}
}

// Failed is why a file could not be written, nil where all were: what was solved after it is not
// kept.
func (f *Folder) Failed() error {
	f.mu.Lock()
	defer f.mu.Unlock()
	return f.failed
}

// suffix ends the name of a file, after the SHA-256 of its inputs in hexadecimal.
const suffix = ".solved"

func (f *Folder) file(inputs []byte) string {
	sum := sha256.Sum256(inputs)
	return filepath.Join(f.path, hex.EncodeToString(sum[:])+suffix)
}

// lately is how old the note of its last use may be that a file bears, its time of change.
const lately = time.Hour

// Load implements model.Store.
func (f *Folder) Load(inputs []byte) []byte {
	if f.readOnly {
		f.mu.Lock()
		b := f.held[string(inputs)]
		f.mu.Unlock()
		if b != nil {
			return b
		}
	}
	path := f.file(inputs)
	in, err := whole.Open(path, mostOfFile)
	if err != nil {
		return nil
	}
	defer in.Close()
	about, err := in.Stat()
	if err != nil || about.Size() > mostOfFile {
		return nil
	}
	b := make([]byte, about.Size())
	if _, err := io.ReadFull(in, b); err != nil {
		return nil
	}
	solved, ok := decode(b, inputs)
	if !ok {
		return nil
	}
	if now := f.now(); !f.readOnly && now.Sub(about.ModTime()) > lately {
		_ = os.Chtimes(path, now, now) // it only goes the sooner
	}
	return solved
}

// Save implements model.Store.
func (f *Folder) Save(inputs, solved []byte) {
	if f.readOnly {
		f.hold(inputs, solved)
		return
	}
	if f.Failed() != nil {
		return
	}
	b := encode(inputs, solved)
	if len(b) > mostOfFile {
		return
	}
	put := func() error {
		return f.write(f.file(inputs), func(w io.Writer) error {
			_, err := w.Write(b)
			return err
		})
	}
	err := put()
	if errors.Is(err, fs.ErrNotExist) {
		if err = os.Mkdir(f.path, 0o700); err == nil || errors.Is(err, fs.ErrExist) {
			err = put()
		}
	}
	if err != nil && f.Load(inputs) != nil {
		return // another process was sooner, on a system that does not replace what is being read
	}
	f.mu.Lock()
	defer f.mu.Unlock()
	if err != nil {
		f.failed = cause(err)
		return
	}
	if f.since += int64(len(b)); f.since >= f.step() {
		f.prune()
		f.since = 0
	}
}

// magic begins every file; its number changes with the format.
const magic = "rotorsieve solved 1\n"

// encode makes a file: magic, the length of the inputs in 32 bits and these, what was solved, and
// the SHA-256 of all before.
func encode(inputs, solved []byte) []byte {
	b := make([]byte, 0, len(magic)+4+len(inputs)+len(solved)+sha256.Size)
	b = append(b, magic...)
	b = binary.LittleEndian.AppendUint32(b, uint32(len(inputs)))
	b = append(b, inputs...)
	return seal(append(b, solved...))
}

// seal appends the checksum.
func seal(b []byte) []byte {
	sum := sha256.Sum256(b)
	return append(b, sum[:]...)
}

// decode gives what was solved of the inputs by a file. It is false for one that is not whole,
// of another format, or of other inputs.
func decode(b, inputs []byte) (solved []byte, ok bool) {
	const head = len(magic) + 4
	if len(b) < head+len(inputs)+sha256.Size {
		return nil, false
	}
	body, sum := b[:len(b)-sha256.Size], b[len(b)-sha256.Size:]
	if string(body[:len(magic)]) != magic ||
		uint64(binary.LittleEndian.Uint32(body[len(magic):])) != uint64(len(inputs)) ||
		!bytes.Equal(body[head:head+len(inputs)], inputs) {
		return nil, false
	}
	if s := sha256.Sum256(body); !bytes.Equal(s[:], sum) {
		return nil, false
	}
	return body[head+len(inputs):], true
}

// cause strips a system's error of its path.
func cause(err error) error {
	if e, ok := errors.AsType[*fs.PathError](err); ok {
		return e.Err
	}
	return err
}
