package scene

// Pen says how strokes end and turn. The zero Pen cuts ends off square at their points, and turns in sharp corners.
type Pen struct {
	Cap  Cap
	Join Join
}

// Cap is how a stroke ends.
type Cap uint8

const (
	ButtCap   Cap = iota // at the point
	RoundCap             // half a circle beyond it
	SquareCap            // half a width beyond it
)

// Join is how a stroke turns a corner.
type Join uint8

const (
	MiterJoin Join = iota // in a point, cut off where it would reach beyond MiterLimit
	RoundJoin
	BevelJoin
)

// MiterLimit is how long the point of a sharp corner may be, in widths of the stroke; corners that would reach
// farther are cut off. It is the value that SVG takes unasked.
const MiterLimit = 4
