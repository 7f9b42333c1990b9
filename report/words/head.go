package words

import "rotorsieve/model"

// heads are metrics in the few letters over a narrow column, whose unit stands beneath.
var heads = map[string]string{
	"auw": "AUW", "class-margin": "spare", "disk-loading": "disk loading", "battery-fraction": "pack share",
	"wheelbase": "wheelbase", "capacity-per-cell": "per cell", "rim-speed": "rim", "winding-load": "winding",
	"full-throttle-rpm": "full rpm", "tip-speed": "tip", "tip-mach": "tip M", "thrust-to-weight": "T/W",
	"level-tilt-limit": "tilt limit", "motor-current": "motor I", "torque-per-volume": "torque/vol",
	"torque-load": "torque", "controller-rating": "controller", "pack-current": "pack I", "pack-c-rate": "C rate",
	"pack-load": "pack load", "pack-voltage": "pack V", "voltage-margin": "cell spare", "hover-rpm": "hover rpm",
	"hover-tip-speed": "hover tip", "hover-throttle": "throttle", "hover-power": "hover P",
	"hover-efficiency": "hover eff.", "figure-of-merit": "FM", "motor-temperature": "motor T",
	"burst-time": "burst", "thrust-response-time": "up in", "thrust-response-down": "down in",
	"rotor-inertia": "inertia", "roll-acceleration": "roll", "likeness": "likeness", "arm-frequency": "arm f",
	"arm-ratio": "arm/hover", "thrust-share": "T reserve", "hard-flight-time": "hard", "hover-time": "hover",
	"top-speed": "top", "top-speed-time": "at top", "top-tilt": "top tilt", "flight-rpm": "top rpm",
	"flight-tip-mach": "flight M", "best-endurance-speed": "cruise V", "cruise-power": "cruise P",
	"cruise-time": "cruise", "cruise-motor-temperature": "cruise T", "best-range-speed": "range V",
	"range": "range", "climb-rate": "climb", "ceiling": "ceiling",
}

// MetricHead is what stands over a narrow column of a metric, and its symbol where it has no
// such word.
func MetricHead(m *model.Metric) string {
	if s := heads[m.Name]; s != "" {
		return s
	}
	return m.Symbol
}
