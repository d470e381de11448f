package stage

import (
	"context"

	"coldbay/scenes/debrief/page"
	"coldbay/scenes/paint"
	"coldbay/scenes/ui"
	"coldbay/sim/bench"
	"coldbay/sim/car"
)

// Hardest is the highest level of an order.
const Hardest = 4

// Order is one line of the job board.
type Order struct {
	ID, Title, Customer, Vehicle, Complaint string
	Minutes                                 int  // allowed, a guide
	Level                                   int  // how hard it is, 1 to Hardest; 0 when nobody says
	Suspects                                int  // causes on its board; 0 when nobody says
	Started                                 bool // there is an attempt to go on with
	Done                                    bool // the attempt was closed
	Tried, TriedDone                        bool // there is a second try from the middle of a closed attempt; it was closed
	TriedFrom                               int  // the line from which it goes on
}

// Opened is an order that was taken up. Car is the id under which the car's drawing is found; a car that has none is drawn from its
// catalogue, and from Plan when that is known.
type Opened struct {
	ID      string // under which the attempt is kept
	Session bench.Session
	Car     string
	Plan    *car.Car
	Notice  string // what to tell: "torn" when the last line of the attempt was lost, "aside" when the attempt was damaged and a new one begun
}

// Orders is what the window needs from outside. Its methods may take long and are called on their own goroutine, one
// at a time.
type Orders interface {
	// List is the job board.
	List(ctx context.Context) ([]Order, error)
	// Open gives the session of an order, or of the second try of one: a saved attempt taken up again, or a new one when there is none or fresh is
	// asked for.
	Open(ctx context.Context, id string, fresh bool) (Opened, error)
	// Debrief grades the closed attempt of an order. What it is at is told in a sentence, by kind, whenever that changes.
	Debrief(ctx context.Context, id string, tell func(kind, words string)) (*page.Document, error)
	// Replay plays the closed attempt of an order again and shows every moment of it. Debrief was called before.
	Replay(ctx context.Context, id string) (*Past, error)
	// Retake begins an attempt of an order that stands where the closed attempt stood after a ledger line. It is kept under an
	// id of its own, under which Open takes it up again.
	Retake(ctx context.Context, id string, line int) (Opened, error)
	// Compare plays the closed attempt of an order in the car of one suspect beside the true one. Debrief was called before.
	Compare(ctx context.Context, id, suspect string) (page.Thought, error)
}

// Scene is one screen.
type Scene interface {
	// Build describes the screen as it is now. It is called again after anything changed.
	Build(b *ui.Build)
	// Live adds what moves to the mesh; seconds is the time since the window opened.
	Live(m *paint.Mesh, seconds float64)
}

// Enterer is a scene that wants to know when it comes on.
type Enterer interface{ Enter() }
