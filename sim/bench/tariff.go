package bench

// Tariff says what time and money things take. It is data (scenarios/tariff.yaml), so that a school can set its own.
type Tariff struct {
	Format  string        `yaml:"format" strict:"required"` // coldbay-tariff/1
	Seconds TariffSeconds `yaml:"seconds" strict:"required"`
	Prices  TariffPrices  `yaml:"prices" strict:"required"`
}

// TariffFormat is the format line that a tariff file must carry.
const TariffFormat = "coldbay-tariff/1"

// TariffSeconds are durations at the bench in seconds, walking not included; each 0..7200.
type TariffSeconds struct {
	Look      float64 `yaml:"look" strict:"required"`      // looking over one place
	Bend      float64 `yaml:"bend" strict:"required"`      // in addition when hoses and covers are moved
	Listen    float64 `yaml:"listen" strict:"required"`    // unless the action says how long; long enough for one actuator edge
	Feel      float64 `yaml:"feel" strict:"required"`      //
	Key       float64 `yaml:"key" strict:"required"`       //
	CrankMax  float64 `yaml:"crank_max" strict:"required"` // the starter is let go after this
	Hold      float64 `yaml:"hold" strict:"required"`      // settling the throttle
	Connector float64 `yaml:"connector" strict:"required"` // opening or closing one
	Pull      float64 `yaml:"pull" strict:"required"`      // a hose end
	Fit       float64 `yaml:"fit" strict:"required"`       //
	Plug      float64 `yaml:"plug" strict:"required"`      // plugging or freeing an opening
	Probe     float64 `yaml:"probe" strict:"required"`     // one meter or lamp lead, back-probed
	Settle    float64 `yaml:"settle" strict:"required"`    // until a display stands still
	Away      float64 `yaml:"away" strict:"required"`      // taking an instrument off
	Clamp     float64 `yaml:"clamp" strict:"required"`     //
	Zero      float64 `yaml:"zero" strict:"required"`      // zeroing the clamp
	Jumper    float64 `yaml:"jumper" strict:"required"`    // one clip
	Gauge     float64 `yaml:"gauge" strict:"required"`     // hand pump on or off
	Stroke    float64 `yaml:"stroke" strict:"required"`    // one stroke
	Blow      float64 `yaml:"blow" strict:"required"`      //
	Smoke     float64 `yaml:"smoke" strict:"required"`     // smoke in, lines followed with a lamp, tool off
	Analyse   float64 `yaml:"analyse" strict:"required"`   // probe in, reading settled, probe out
	Helper    float64 `yaml:"helper" strict:"required"`    // fetching a helper
	Extract   float64 `yaml:"extract" strict:"required"`   //
	ScanOn    float64 `yaml:"scan_on" strict:"required"`   // plugging in and choosing the vehicle
	ScanPage  float64 `yaml:"scan_page" strict:"required"` // one page of the scan tool
	Erase     float64 `yaml:"erase" strict:"required"`     //
	SoakBench float64 `yaml:"soak_bench" strict:"required"`
	Drive     float64 `yaml:"drive" strict:"required"` // the verifying drive, from the cold start on
	Air       float64 `yaml:"air" strict:"required"`   // airing the bay after too much exhaust
}

// TariffPrices are in cents and hours.
type TariffPrices struct {
	LabourHour  int     `yaml:"labour_hour_cents" strict:"required"`
	Night       int     `yaml:"night_cents" strict:"required"`        // what one overnight soak costs the shop
	NightHours  float64 `yaml:"night_hours" strict:"required"`        // how long the car stands
	NightPar    int     `yaml:"night_par_minutes" strict:"required"`  // what the grader counts for it, in bench minutes
	HelperHour  int     `yaml:"helper_hour_cents" strict:"required"`  //
	MeterFuse   int     `yaml:"meter_fuse_cents" strict:"required"`   // the meter's own 10 A fuse
	JumperLead  int     `yaml:"jumper_lead_cents" strict:"required"`  // a lead burnt
	JumperFuse  int     `yaml:"jumper_fuse_cents" strict:"required"`  // a fuse in a lead
	BatteryHelp int     `yaml:"battery_help_cents" strict:"required"` // charging a flat battery
}
