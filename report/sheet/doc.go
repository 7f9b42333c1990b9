// Package sheet lays out the workbooks, one file a sheet: the design review of a run
// and the comparison of several. Pages, looks and the stream are those of package xlsx.
package sheet
