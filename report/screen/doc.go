// Package screen prints to a terminal: the answer of a study, the data sheet of one
// design, what a thrust stand would show, and the same as JSON for machines.
package screen
