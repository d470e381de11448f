package scenarios

// TradeFile is the trade's own order of work on a car, as fixed sheets of procedures; grading/ladder parses it. A car that has none
// gives an error that wraps fs.ErrNotExist.
func TradeFile(car string) (name string, data []byte, err error) {
	return gradingFile("procedures/" + car + "_trade.yaml")
}
