package circuit

import "math"

// belowFull is how far the rest voltage of a lead-acid battery lies below that of a full one, V, at each quarter of charge from empty:
// 11.89, 12.06, 12.24, 12.45, 12.65 V (battery state-of-charge sheet, table credited to BCI, 80 degF).
var belowFull = [...]float64{0.76, 0.59, 0.41, 0.20, 0}

// spent is the charge below which a battery's voltage breaks down; at none left there is none [invented: the table ends at what may
// be called empty].
const spent = 0.03

// restVolts is the electromotive force of a battery with the given full voltage at a state of charge from 0 to 1, V.
func restVolts(full, charge float64) float64 {
	x := float64(charge * 4)
	i := min(int(x), 3)
	v := full - belowFull[i] + float64((belowFull[i]-belowFull[i+1])*(x-float64(i)))
	return v * min(1, charge/spent)
}

// What a battery takes up while it is charged. The charging current of a lead-acid battery at a constant voltage stays up until about four
// fifths of the charge are back and falls from there; a full one is left with a small share of it [practice]. The fall takes minutes, as the plates
// polarise, and after a load most of it is gone [times invented]. It is a resistance that grows: charge_ohm / (1 - taperMost taper).
const (
	taperFrom = 0.8  // state of charge from which the current falls
	taperMost = 0.85 // share of the current that a full battery refuses in the end
	taperGone = 60.0 // s in which a load undoes it
	taperStep = 0.005
)

// taperGoal is where the polarisation of a battery on charge goes at a state of charge, 0 to 1.
func taperGoal(charge float64) float64 { return min(max((charge-taperFrom)/(1-taperFrom), 0), 1) }

// chargeOhm is the resistance of a battery on charge in ohm: fresh is that of one that has not been charged for a while.
func chargeOhm(fresh, taper float64) float64 { return fresh / (1 - float64(taperMost*taper)) }

// polarise moves the taper by dt seconds with a current of amps into the battery (negative: out of it) and says whether the matrix has to
// follow.
func (s *State) polarise(amps, seconds, dt float64) bool {
	goal, tau := taperGoal(s.Charge), seconds
	if amps <= 0 {
		goal, tau = 0, taperGone
	}
	s.taper += float64((goal - s.taper) * (dt / (tau + dt)))
	return amps > 0 && math.Abs(s.taper-s.fac.taper) > taperStep*(1-float64(taperMost*s.taper))
}
