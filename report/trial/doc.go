// Package trial has small invented studies and their runs, for the tests of the rooms
// of package report. Its constants of the physics are frozen in a file, so that a test
// of what is said of a result does not hang on the physics of the day.
package trial
