package whole

import (
	"os"
	"path/filepath"
	"testing"
)

// A folder that is yet to be made has the room of the disk that it will be on.
func TestFree(t *testing.T) {
	dir := t.TempDir()
	file := filepath.Join(dir, "file")
	if err := os.WriteFile(file, nil, 0o600); err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		path string
		ok   bool
	}{{dir, true}, {filepath.Join(dir, "not", "yet"), true}, {filepath.Join(file, "below"), false}} {
		n, err := Free(c.path)
		if (err == nil) != c.ok || c.ok && n == 0 {
			t.Errorf("%s: %d bytes, error %v", filepath.Base(c.path), n, err)
		}
	}
}
