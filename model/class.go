package model

// Threshold is a mass of unmanned aircraft at which rules change.
type Threshold struct {
	Limit float64 // kg
	Below bool    // the limit itself is not in the class: less than, not up to
	What  string
	Where string // jurisdiction
	Rule  string // title and section
}

// ThresholdsDate is when the list of Thresholds was written.
const ThresholdsDate = "2026-11"

// ThresholdsCaution goes with every showing of Thresholds.
const ThresholdsCaution = "Rules change and have exceptions; mass is never all that they ask. Check the local rules " +
	"in force: nothing here says that a craft complies."

// Thresholds are published masses at which rules change, by mass. From
// memory of the rules named.
var Thresholds = []Threshold{
	{0.100, true, "not an unmanned aircraft by the aviation act; above, registration", "Japan",
		"Civil Aeronautics Act, as amended for 2022"},
	{0.55 * 0.45359237, false, "up to 0.55 lb (249.48 g), no registration for recreation", "United States",
		"14 CFR 48.15"},
	{0.250, true, "class C0: less than 250 g with payload", "European Union",
		"Delegated Regulation (EU) 2019/945, Annex, Part 1"},
	{0.250, true, "below, most of the rules of small craft do not bind; from it, registration", "Canada",
		"Canadian Aviation Regulations, Part IX"},
	{0.900, true, "class C1: less than 900 g, or 80 J at impact", "European Union",
		"Delegated Regulation (EU) 2019/945, Annex, Part 2"},
	{2, false, "excluded category without a licence, up to 2 kg", "Australia",
		"Civil Aviation Safety Regulations, Part 101"},
	{4, true, "class C2: less than 4 kg", "European Union", "Delegated Regulation (EU) 2019/945, Annex, Part 3"},
	{55 * 0.45359237, true, "small unmanned aircraft: less than 55 lb (24.95 kg)", "United States", "14 CFR 107.3"},
	{25, false, "small craft: 250 g up to 25 kg", "Canada", "Canadian Aviation Regulations, Part IX"},
}
