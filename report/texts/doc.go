// Package texts sets text whatever it says: words wrapped into lines, tables of columns
// and listings for a terminal, counts and lists in running text. Widths are in
// characters (runes), each of which is taken to fill one place of a line.
package texts
