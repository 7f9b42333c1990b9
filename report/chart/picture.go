package chart

// Picture is one picture of a report.
type Picture struct {
	Name          string // path in the report's folder, for example "figures/size.png"
	Title         string // the finding or the question
	Caption       string
	PNG           []byte
	Width, Height int // pixels
}
