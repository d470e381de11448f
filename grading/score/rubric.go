package score

import (
	"coldbay/sim/car/strict"
)

// RubricFormat is the first line of a rubric file.
const RubricFormat = "coldbay-rubric/1"

// Rubric says what the marks weigh and what bars a pass. It is the instructor's to change.
type Rubric struct {
	Format  string  `yaml:"format" strict:"required"`
	Weights Weights `yaml:"weights" strict:"required"` // parts of 100
	Pass    int     `yaml:"pass" strict:"required"`    // total from which an attempt is passed
	Caps    Caps    `yaml:"caps" strict:"required"`
	Points  Points  `yaml:"points" strict:"required"`
}

// Weights of the five marks; they add up to 100.
type Weights struct {
	Economy   int `yaml:"economy" strict:"required"`
	Evidence  int `yaml:"evidence" strict:"required"`
	Reasoning int `yaml:"reasoning" strict:"required"`
	Safety    int `yaml:"safety" strict:"required"`
	Finish    int `yaml:"finish" strict:"required"`
}

// Caps bound the total when something that matters is missing.
type Caps struct {
	WrongPart  int `yaml:"wrong_part" strict:"required"` // a part fitted that was not at fault
	Unverified int `yaml:"unverified" strict:"required"` // repaired, but no monitor run showed it
	Unrepaired int `yaml:"unrepaired" strict:"required"` // closed with something still at fault
}

// Points are deductions and shares within a mark, in points of 100.
type Points struct {
	Unproven   int `yaml:"unproven" strict:"required"`    // evidence: a right part before it was proven
	Needless   int `yaml:"needless" strict:"required"`    // evidence: a part that was not at fault
	StruckTrue int `yaml:"struck_true" strict:"required"` // reasoning: at most this when the fault itself was struck
	Prediction int `yaml:"prediction" strict:"required"`  // reasoning: at most what predictions add that were borne out
	MinorRisk  int `yaml:"minor_risk" strict:"required"`  // safety: each hazard that is not grave
	Named      int `yaml:"named" strict:"required"`       // finish: the cause named
	Proof      int `yaml:"proof" strict:"required"`       // finish: a reading that bears on it
	Repaired   int `yaml:"repaired" strict:"required"`    // finish: nothing at fault any more
	Verified   int `yaml:"verified" strict:"required"`    // finish: shown by a monitor run
	Restored   int `yaml:"restored" strict:"required"`    // finish: the bench left as it was
}

// maxPrediction keeps what is written beforehand a small part of the reasoning mark.
const maxPrediction = 20

// ParseRubric reads a rubric. Errors name file, line and key.
func ParseRubric(file string, data []byte) (*Rubric, error) {
	r := new(Rubric)
	doc, err := strict.Decode(file, data, r)
	if err != nil {
		return nil, err
	}
	if r.Format != RubricFormat {
		return nil, doc.Errorf([]any{"format"}, "found %q, allowed is %q", r.Format, RubricFormat)
	}
	w := r.Weights
	if sum := w.Economy + w.Evidence + w.Reasoning + w.Safety + w.Finish; sum != 100 || min(w.Economy, w.Evidence, w.Reasoning, w.Safety, w.Finish) < 0 {
		return nil, doc.Errorf([]any{"weights"}, "they add up to %d, allowed are numbers from 0 that add up to 100", sum)
	}
	p := r.Points
	if sum := p.Named + p.Proof + p.Repaired + p.Verified + p.Restored; sum != 100 {
		return nil, doc.Errorf([]any{"points"}, "named, proof, repaired, verified and restored add up to %d, allowed is 100", sum)
	}
	for _, c := range []struct {
		key []any
		v   int
	}{
		{[]any{"pass"}, r.Pass},
		{[]any{"caps", "wrong_part"}, r.Caps.WrongPart}, {[]any{"caps", "unverified"}, r.Caps.Unverified}, {[]any{"caps", "unrepaired"}, r.Caps.Unrepaired},
		{[]any{"points", "unproven"}, p.Unproven}, {[]any{"points", "needless"}, p.Needless}, {[]any{"points", "struck_true"}, p.StruckTrue},
		{[]any{"points", "minor_risk"}, p.MinorRisk}, {[]any{"points", "named"}, p.Named}, {[]any{"points", "proof"}, p.Proof},
		{[]any{"points", "repaired"}, p.Repaired}, {[]any{"points", "verified"}, p.Verified}, {[]any{"points", "restored"}, p.Restored},
	} {
		if c.v < 0 || c.v > 100 {
			return nil, doc.Errorf(c.key, "found %d, allowed is 0 to 100", c.v)
		}
	}
	if p.Prediction < 0 || p.Prediction > maxPrediction {
		return nil, doc.Errorf([]any{"points", "prediction"}, "found %d, allowed is 0 to %d", p.Prediction, maxPrediction)
	}
	return r, nil
}

// rules says which files of a school's own the case is graded by.
func (c *Case) rules() []string {
	var out []string
	say := func(key, digest string) {
		out = append(out, c.Words.T(key, "digest", digest[:min(12, len(digest))]))
	}
	if d := c.Config.TariffDigest; d != "" {
		say("grade.rules.tariff", d)
	}
	if d := c.Config.RubricDigest; d != "" {
		say("grade.rules.rubric", d)
	}
	if c.Played != nil && c.Played.Rubric != c.Config.RubricDigest {
		out = append(out, c.Words.T("grade.rules.other"))
	}
	return out
}
