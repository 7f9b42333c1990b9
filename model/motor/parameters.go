package motor

// Parameters are the constants of motors and speed controllers whose spread is known;
// Basis says more of each.
type Parameters struct {
	Km   float64 // motor constant, N m/sqrt(W), of a stator of 1 mm x 1 mm
	Mass float64 // of the same, kg

	LossStatic float64 // loss torque at rest, N m per kg of motor
	LossSpeed  float64 // its growth, N m per kg and rpm

	Rim         float64 // speed of the rim of a stator of rimDiameter, m/s
	BurstTorque float64 // for seconds, over the volume of a stator of burstVolume, N/m2

	UnderLoad float64 // speed constant under load over that of the label
	Reactance float64 // x, V s m3/(A (N m/A)^2)
	Chopping  float64 // c, at StandRate
	StandRate float64 // pulse rate of the stands' controllers, Hz

	Drop  float64 // of the conducting switches, at the rating, V
	Leads float64 // drop of leads and joints, at the rating, V
	Edge  float64 // overlap of voltage and current per switching, s
	Idle  float64 // logic and gate drive of a channel, W

	Board      float64 // kg
	BoardSlope float64 // 1/A
	Joined     float64 // kg/A

	Conductance float64 // W/K of a motor of massOf in a wash of fluxOf
	Heat        float64 // specific, of copper and iron, J/(kg K)
}

// Nominal are the parameters as they are best known.
func Nominal() Parameters {
	const board, slope = 0.004, 0.06
	return Parameters{
		Km: 1.77e-5, Mass: 0.0123e-3,
		LossStatic: 0.085, LossSpeed: 2.8e-6,
		Rim: 57, BurstTorque: 75e3,
		UnderLoad: 0.86, Reactance: 5e-6, Chopping: 3.9, StandRate: StandPulseRate,
		Drop: 0.15, Leads: 0.35, Edge: 100e-9, Idle: IdleLoss,
		Board: board, BoardSlope: slope, Joined: board * slope,
		Conductance: 0.30, Heat: 480,
	}
}

// StandPulseRate is that of the controllers of the stands that the chopping loss was
// fitted to, in Hz: of 2018 to 2020, most likely (common practice of those years, from
// memory).
const StandPulseRate = 24e3

// IdleLoss is the nominal power of one channel's logic and gate drive, in W.
const IdleLoss = 0.3

// nominal is never written to.
var nominal = Nominal()

// New is the motor of a stator and a KV by the nominal parameters.
func New(s Stator, kv float64, use Use) Motor { return nominal.New(s, kv, use) }
