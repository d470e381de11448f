package stage

// Names of the scenes of lesson mode. They are open beside an order, and know nothing of it.
const (
	Lessons = "lessons" // the shelf
	Lesson  = "lesson"  // the open lesson
	Cutaway = "cutaway" // the cutaway by itself
)
