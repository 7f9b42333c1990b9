// Package figure draws the pictures of a report, one file a picture, from findings and
// results: each fills a chart.Figure and says its finding in the title.
package figure
