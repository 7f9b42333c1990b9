package whole

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"
)

// Free is how many bytes the user may yet write where a folder stands, or would: on the disk
// of what is nearest to it on the way. The error is errors.ErrUnsupported where the system
// does not tell.
func Free(folder string) (uint64, error) {
	for at := filepath.Clean(folder); ; at = filepath.Dir(at) {
		_, err := os.Stat(at)
		if err == nil {
			n, err := free(at)
			return n, cause(err)
		}
		if !errors.Is(err, fs.ErrNotExist) || at == filepath.Dir(at) {
			return 0, cause(err)
		}
	}
}
