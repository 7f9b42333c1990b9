package whole

import "golang.org/x/sys/windows"

func free(folder string) (n uint64, err error) {
	path, err := windows.UTF16PtrFromString(folder)
	if err != nil {
		return 0, err
	}
	err = windows.GetDiskFreeSpaceEx(path, &n, nil, nil)
	return n, err
}
