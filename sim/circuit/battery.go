package circuit

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
