// Package words phrases what package finding found, each finding once, so that a
// sentence that the program prints is found in one search; and it prints numbers with
// their units in running text, lists, and tables of text.
package words
