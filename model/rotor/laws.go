package rotor

import (
	"fmt"

	"rotorsieve/model/basis"
	"rotorsieve/model/field"
)

// Laws lists the formulas of the rotor model.
func Laws() []basis.Law {
	const (
		derived = "derived here"
		ning    = "derived here, after Ning, A simple solution method for the blade element momentum equations with " +
			"guaranteed convergence, 2014"
		prandtl = "Glauert, Airplane Propellers, 1935"
		snel    = "derived here; k3 after Snel, Houwink, Bosschers, Sectional prediction of lift coefficients on " +
			"rotating wind turbine blades in stall, 1994 (from memory)"
		korn     = "Korn's relation and Lock's fourth power, from memory; not validated for small propellers"
		glauert  = "Glauert, A general theory of the autogyro, 1926"
		strip    = "derived here after strip theory; factors fitted to blade-element solutions averaged around the disc"
		fitted   = "fitted here, see the constants"
		smooth   = "Fritsch, Butland, A method for constructing local monotone piecewise cubic interpolants, 1984"
		interval = "r/R = r_0/R + (1 - r_0/R) (1 - (1 - i/%d)^1.5), i = 0 to %[1]d; forces at the middle of each " +
			"strip; the result is within 0.1 %% of that of 300"
	)
	return append([]basis.Law{
		{Name: "Chord at 75 % radius, two blades", Formula: "c75/R (D/D_c)^n_c from D_small up, ^(n_c small) below; " +
			"with more blades x k_cB; or as given", Source: fitted},
		{Name: "Pitch P of the blade", Formula: "that of the label; where the chord is not given, below D_small x " +
			"(D/D_small)^n_P, and with more than two blades x k_PB", Source: fitted},
		{Name: "Blade along the radius", Formula: "chord c = c75 (c/c75), pitch angle beta = kappa atan(P/(2 pi r)), " +
			"both of the tables below; between stations monotone cubics, level outside; kappa is read off at the " +
			"stations of c/c75, where beta is then a station", Source: smooth},
		{Name: "Strips of a blade", Formula: fmt.Sprintf(interval, strips), Source: derived},
		{Name: "Flow at a strip", Formula: "U = 2 pi n r, W = sqrt(U^2 + V^2), V the axial airspeed; Re = rho W " +
			"c/viscosity, M = W/a", Source: derived},
		{Name: "Angle of attack from zero lift, x", Formula: "x = beta - alpha0 - phi, u = |x|, L = ln(Re/Re_ref), " +
			"Re at least Re0", Source: "definition"},
		{Name: "Polar: slope and stall", Formula: "a = 2 pi eta exp(nl L)/g, stall = (ast + k3 least(c/r, 1)) g, g = " +
			"sqrt(1 - M^2), the root of at least g0", Source: snel},
		{Name: "Polar: beyond the stall", Formula: "us = delta ln(1 + exp((u - stall)/delta)), ur = delta ln(1 + " +
			"exp((-u - stall)/delta))", Source: snel},
		{Name: "Polar: lift and drag, attached", Formula: "|cl| = a (u - (1 - m) (us - ur)), cd = (cd0 + kd cl^2) " +
			"exp(-nd L) + ks (us + ur)", Source: snel},
		{Name: "Polar: flat plate", Formula: "cl = c_p sin u cos u, cd = cd0 + c_p sin^2 u; a share w = 1/(1 + " +
			"exp((alpha_p - u)/delta_p)) of it and 1 - w of the attached, in cl and cd", Source: snel},
		{Name: "Drag rise", Formula: "cd + k_M (M - Mcr)^4 above Mcr = kappa_A - t/c - dM + dM_tip - k_cl |cl|",
			Source: korn},
		{Name: "Loss F at tip and root", Formula: "F = F_t F_r, F_t = (2/pi) acos(exp(-B/2 (1 - r/R)/((r/R) |sin " +
			"phi|))), F_r the same with r/R - r_h/R for 1 - r/R", Source: prandtl},
		{Name: "Angle of inflow phi", Formula: "V (|s| c + kl s) = 2 pi n r (|s| s - kl c), s = sin phi, c = cos " +
			"phi, kl = sigma cl/(4 F), sigma = B chord/(2 pi r)", Source: ning},
		{Name: "Forces of a strip", Formula: "dT = q (cl cos phi - cd s), dQ = q (cl s + cd cos phi) r, q = rho/2 " +
			"(U/(cos phi + kl s/|s|))^2 chord dr", Source: prandtl},
		{Name: "CT and CP", Formula: "CT = B sum of dT/(rho n^2 D^4), CP = 2 pi B sum of dQ/(rho n^2 D^5); a spline " +
			"over n and J = V/(n D) within 0.1 % of them", Source: "definition"},
		{Name: "Inclined flow: induced speed v", Formula: "T' = 2 rho (pi/4 D^2) v sqrt(Vp^2 + (Va + v)^2), Va " +
			"through and Vp along the disc", Source: glauert},
		{Name: "Inclined flow: equivalent axial one", Formula: "J' = V'/(n D), V' = lambda - T'/(2 rho (pi/4 D^2) " +
			"lambda), lambda = Va + v; T' and P' are those of the table at J'", Source: derived},
		{Name: "Inclined flow: thrust, power, drag H", Formula: "T = T' + k_T mu^2 CTu rho n^2 D^4, P = P' + mu^2 " +
			"(k_P CP0 - k_PV CTu Va/(n D)) rho n^3 D^5, H = mu (k_H CTu lambda/(n D) + k_HP CP0/pi) rho n^2 D^4, mu " +
			"= Vp/(pi n D)", Source: strip},
		{Name: "CTu, CT0, CP0", Formula: "CTu = CT0/(1 - sqrt(2 CT0/pi)/J_0), CT0 and CP0 those at rest, J_0 the " +
			"advance ratio of no thrust", Source: derived},
		{Name: "Prior of a calibration, generic blade", Formula: "L = ln(D/D_prior), D within D_prior least and " +
			"most: pitch b_beta + k_beta L +- s_beta, ln drag k_cd L +- s_cdg, ln chord b_c + k_c L +- s_cg (with " +
			"more than two blades and s_cm besides); where the chord is given b_betag, k_betag, b_cg, k_cg and s_c",
			Source: fitted},
		{Name: "Prior of a calibration, blade of known shape", Formula: "no correction, +- s_beta, s_cd and s_c",
			Source: "chosen here"},
		{Name: "Calibration", Formula: "the correction of most probability: least sum of squares of (correction - " +
			"mean)/spread and of ln(model/measured)/sigma, of thrust and power at rest; sigma s_m where none is " +
			"stated, not below s_m/2 at several speeds, and errors of the trend with ln n of s_n besides",
			Source: derived},
	}, field.Laws()...)
}
