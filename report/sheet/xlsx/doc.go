// Package xlsx lays out printed pages of a workbook row by row and streams them, in
// the same bytes whenever the same is written (ECMA-376, Office Open XML). It knows
// nothing of studies.
package xlsx
