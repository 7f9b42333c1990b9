// Package report writes what a run leaves: pictures, workbook, tables, flags and the record
// of the run, each file whole or not at all, in their order. What is in them is made in the
// rooms below it: finding computes what is true of a result, words phrases it, and figure,
// sheet and screen show it.
package report
