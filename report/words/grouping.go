package words

import (
	"rotorsieve/model"
	"rotorsieve/report/finding"
)

// sections group the metrics of a data sheet. Metrics in none of them follow
// under a heading of their own.
var sections = []struct {
	Title   string
	Metrics []string
}{
	{"Size", []string{"auw", "class-margin", "disk-loading", "wheelbase"}},
	{"Hover", []string{"hover-time", "hover-power", "hover-efficiency", "hover-throttle", "hover-rpm",
		"hover-tip-speed", "figure-of-merit"}},
	{"Full throttle, static", []string{"thrust-to-weight", "full-throttle-rpm", "tip-speed", "tip-mach",
		"motor-current", "torque-per-volume", "torque-load", "rim-speed", "winding-load", "controller-rating"}},
	{"Level flight", []string{"top-speed", "top-tilt", "flight-rpm", "flight-tip-mach", "best-endurance-speed",
		"cruise-power", "cruise-time", "best-range-speed", "range", "climb-rate", "level-tilt-limit", "ceiling"}},
	{"Flight as asked", []string{"airspeed-power", "airspeed-current", "airspeed-time", "airspeed-range",
		"airspeed-duty", "airspeed-tilt", "station-time", "best-upwind-speed", "range-upwind", "range-return"}},
	{"Heat", []string{"motor-temperature", "cruise-motor-temperature", "burst-time", "top-speed-time"}},
	{"Response and structure", []string{"thrust-response-time", "thrust-response-down", "rotor-inertia",
		"roll-acceleration", "arm-frequency", "arm-ratio"}},
	{"Battery", []string{"battery-fraction", "capacity-per-cell", "pack-current", "pack-c-rate", "pack-load",
		"pack-voltage", "voltage-margin", "thrust-share", "hard-flight-time"}},
}

// group is metrics under one heading.
type group struct {
	Title   string
	Metrics []*model.Metric
}

// Grouping lists all metrics that are not inputs by section.
func Grouping() []group {
	var out []group
	done := map[*model.Metric]bool{}
	for _, k := range sections {
		g := group{Title: k.Title}
		for _, name := range k.Metrics {
			m := finding.Metric(name)
			done[m] = true
			g.Metrics = append(g.Metrics, m)
		}
		out = append(out, g)
	}
	more := group{Title: "More"}
	for _, m := range finding.Computed() {
		if !done[m] {
			more.Metrics = append(more.Metrics, m)
		}
	}
	return append(out, more)
}
