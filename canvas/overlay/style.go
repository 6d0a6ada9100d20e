package overlay

import (
	"image/color"
	"slices"
)

// The colours are those of M. Okabe and K. Ito, "Color Universal Design"
// (2002, revised 2008), which stay apart for every kind of colour vision.
var (
	black      = color.NRGBA{0x00, 0x00, 0x00, 0xff}
	orange     = color.NRGBA{0xe6, 0x9f, 0x00, 0xff}
	green      = color.NRGBA{0x00, 0x9e, 0x73, 0xff}
	yellow     = color.NRGBA{0xf0, 0xe4, 0x42, 0xff}
	blue       = color.NRGBA{0x00, 0x72, 0xb2, 0xff}
	vermillion = color.NRGBA{0xd5, 0x5e, 0x00, 0xff}
	purple     = color.NRGBA{0xcc, 0x79, 0xa7, 0xff}
	skyBlue    = color.NRGBA{0x56, 0xb4, 0xe9, 0xff}
	white      = color.NRGBA{0xff, 0xff, 0xff, 0xff}
)

// byNight is the colour of a text on dark ground, where black, blue and vermillion could hardly be read.
func byNight(ink color.NRGBA) color.NRGBA {
	switch ink {
	case black:
		return white
	case blue:
		return skyBlue
	case vermillion:
		return orange
	}
	return ink
}

func faded(c color.NRGBA, alpha uint8) color.NRGBA { c.A = alpha; return c }

// paleness is how much of their ink lines keep that stand back.
const paleness = 0.4

// pale is a line's ink as it stands back.
func pale(ink []band) []band {
	out := slices.Clone(ink)
	for i := range out {
		out[i].col.A = uint8(paleness * float64(out[i].col.A))
	}
	return out
}

// nightCasing is that of outlines on the ground by night, on which each of their colours is seen.
var nightCasing = color.NRGBA{0x88, 0x88, 0x88, 0xa0}

// dimmed is the casing of an outline on the ground by night.
func dimmed(casing []band) []band {
	out := slices.Clone(casing)
	for i := range out {
		out[i].col = nightCasing
	}
	return out
}

// onGround reports whether a kind is an outline of what is drawn on the ground, or of what is
// proposed.
func onGround(k kind) bool {
	return k >= cragLine && k <= catchingLine || k == keepLine || k == drawnLine || k == closingLine
}

// band is a part of a line's cross-section: what lies between two distances
// from the axis, in device-independent pixels, on both sides.
type band struct {
	from, to float64
	col      color.NRGBA
}

// style is how a kind of line looks. Lengths are device-independent pixels.
type style struct {
	casing []band
	ink    []band
	dash   []float64 // drawn, left out, drawn …; nil is a solid line
	round  bool      // ends are round, else cut square
}

// kind names a row of the table of styles.
type kind int

const (
	legLine kind = iota
	legChosen
	legStopped
	legChosenStopped
	legTick
	legTickChosen
	sightLine
	sightChosen
	sightStopped
	sightChosenStopped
	markLine
	markChosen
	controlLine
	controlChosen
	gridLine
	gridIndex
	residualLine
	hatchLine
	errorLine
	hullLine
	reachLine
	foundLine
	foundWell
	foundPartly
	foundFaint
	trackDots
	trackChosen
	northGrid
	northMagnetic
	northTrue
	arcLine
	lessonLine
	rayLine
	rayEdge
	rayHatch
	secondLine
	secondEdge
	secondHatch
	guessLine
	guessMedian
	ledLine
	crossingLine
	fitsWellLine
	fitsBarelyLine
	cannotFitLine
	cragLine
	steepLine
	waterLine
	bogLine
	privateLine
	plantationLine
	roughLine
	offPathLine
	pathAreaLine
	havenLine
	followLine
	catchingLine
	escapeLine
	escapeChosen
	escapeStopped
	escapeChosenStopped
	slipLine
	shapeChosen
	keepLine
	vertexDot
	drawnLine
	closingLine
	cragHatch
	steepHatch
	waterHatch
	privateHatch
	greenHatch
	slopeHatch
	overHatch
	contourLine
	contourIndex
	voidCross
	kinds
)

// styles is the table of all lines. Kinds differ in colour and in width or
// dash, so that colour alone distinguishes none:
//
//	leg           two fine blue rails, ticked every 100 m
//	leg chosen    two strong vermillion rails, yellow between
//	sight         one purple line of long dashes; chosen: vermillion, stronger
//	stopped       a leg's rails are broken, chosen or not, a sight's dashes are
//	              short and far apart: the reading cannot be trusted
//	mark          a black lozenge; chosen: vermillion, stronger
//	control point a green cross with corners; chosen: vermillion
//	aimed at      a long open cross, vermillion
//	check         a triangle: blue and round where it agrees, vermillion where it
//	              disagrees, black where it was not compared
//	grid          a thin green line, every tenth stronger, never a casing
//	residual      an orange arrow
//	found grid    fine blue dashes, with gaps in which the printed line is seen;
//	              its intersections in rings: closed and blue where both lines are
//	              well seen, broken and orange where partly, two vermillion
//	              strokes where faintly
//	error         purple hatching, denser where a place may be farther off, and
//	              thin black contours with their figure; a black line with ticks
//	              on its outer side is the hull of the control points;
//	              beyond a vermillion line nothing is to be trusted
//	track         black dots; chosen: vermillion, larger
//	crag          two black rails, orange between; areas of danger are hatched
//	              rising to the right, other areas falling
//	steep ground  one orange line of dashes, hatched orange
//	water         two blue rails, sky blue between; hatched blue
//	bog           one blue line of short dashes; hatched blue
//	private       one purple line, dash and dot; hatched purple
//	plantation    one green line of even dashes; cross-hatched green
//	rough ground  one fine line of black dots; hatched black, falling
//	off path      one fine green line of dots; hatched green, falling, far apart
//	path area     one fine green line, dash and dot; cross-hatched green, far apart
//	haven         the widest, two green rails; a point has a gable
//	line          one green line of long dashes; a catching feature: wide and solid
//	escape        two black rails, yellow between, a dash and two dots; one that is
//	              stopped, as every DRAFT, short dashes far apart; chosen: wider,
//	              vermillion rails
//	slip          one fine vermillion line, a dash and two dots
//	chosen        of hazards, havens, lines and areas: a yellow band with vermillion edges beneath, and a
//	              dot at each point
//	to keep off   fine orange dots around a chosen hazard, and around those near a chosen
//	              leg or escape
//	being drawn   one solid vermillion line, with short dashes back to its start; so is the
//	              outline of steep ground that is proposed
//	steepness     vermillion hatching rising to the right, denser from each of four
//	              slopes, crossed from the last; thick where over-steep
//	contour       a fine purple line, every fifth stronger with its height
//	no heights    small black crosses
//	what stands   without casing and texts, in pale ink
//	back
//
// of a lesson:
//
//	norths        grid: solid green; magnetic: orange dash and dot, the widest;
//	              true: short black dashes, the finest; each with its letter
//	arc           one thick blue line with an arrow head
//	its line      one thick vermillion line
//	ray           long vermillion dashes, the wedge's edges fine short ones, hatched
//	              between; of two rays the other one blue, dash and dot, slanting
//	              the other way
//	guesses       fine sky blue lines, their median thick blue dashes
//	led astray    strong purple line of short dashes to a ring
//	crossing      a green cross within its ellipse
//	features      two green rings where they fit well, four orange arcs where barely,
//	              a black cross of strokes where they cannot, else a square
func styles() [kinds]style {
	rail := func(mid, half float64, c color.NRGBA) band { return band{mid - half, mid + half, c} }
	case_ := func(to float64) []band { return []band{{0, to, faded(white, 0xd8)}} }
	one := func(half float64, c color.NRGBA) []band { return []band{{0, half, c}} }
	rails := []band{{0, 2.2, faded(white, 0x50)}, rail(2.2, 0.65, blue)}
	chosen := []band{{0, 2.6, faded(yellow, 0xd0)}, rail(2.6, 0.9, vermillion)}
	wayOff := []band{{0, 1.5, yellow}, rail(1.9, 0.7, black)}
	wayOffChosen := []band{{0, 2.1, yellow}, rail(2.6, 0.9, vermillion)}
	morse, drafted := []float64{16, 9, 1, 9, 1, 9}, []float64{6, 12} // its round ends take 5 of each gap
	broken, sparse := []float64{9, 5}, []float64{5, 8}
	return [kinds]style{
		legLine:             {casing: case_(4.2), ink: rails},
		legChosen:           {casing: case_(5.2), ink: chosen},
		legStopped:          {casing: case_(4.2), ink: rails, dash: broken},
		legChosenStopped:    {casing: case_(5.2), ink: chosen, dash: broken},
		legTick:             {casing: case_(2), ink: one(0.65, blue)},
		legTickChosen:       {casing: case_(2.2), ink: one(0.8, vermillion)},
		sightLine:           {casing: case_(2.8), ink: one(1.3, purple), dash: []float64{12, 6}},
		sightChosen:         {casing: case_(3.4), ink: one(1.8, vermillion), dash: []float64{12, 6}},
		sightStopped:        {casing: case_(2.8), ink: one(1.3, purple), dash: sparse},
		sightChosenStopped:  {casing: case_(3.4), ink: one(1.8, vermillion), dash: sparse},
		markLine:            {casing: case_(2.4), ink: one(0.95, black), round: true},
		markChosen:          {casing: case_(3), ink: one(1.4, vermillion), round: true},
		controlLine:         {casing: case_(2.1), ink: one(0.75, green)},
		controlChosen:       {casing: case_(2.6), ink: one(1.1, vermillion)},
		gridLine:            {ink: one(0.5, faded(green, 0xb8))},
		gridIndex:           {ink: one(0.85, faded(green, 0xd0))},
		residualLine:        {casing: case_(2.6), ink: one(1.1, orange), round: true},
		hatchLine:           {ink: one(0.5, faded(purple, 0xd0))},
		errorLine:           {casing: case_(1.5), ink: one(0.5, black), round: true},
		hullLine:            {casing: case_(2.3), ink: one(1, black), round: true},
		reachLine:           {casing: case_(2.6), ink: one(1.2, vermillion), round: true},
		foundLine:           {casing: case_(1.9), ink: one(0.8, blue), dash: []float64{9, 9}},
		foundWell:           {casing: case_(2.2), ink: one(0.9, blue), round: true},
		foundPartly:         {casing: case_(2.4), ink: one(1.1, orange), round: true},
		foundFaint:          {casing: case_(2.6), ink: one(1.3, vermillion), round: true},
		trackDots:           {casing: case_(2.3), ink: one(1.25, black), round: true},
		trackChosen:         {casing: case_(3), ink: one(1.9, vermillion), round: true},
		northGrid:           {casing: case_(2.8), ink: one(1.3, green)},
		northMagnetic:       {casing: case_(3.2), ink: one(1.7, orange), dash: []float64{12, 4, 3, 4}},
		northTrue:           {casing: case_(2.6), ink: one(1, black), dash: []float64{7, 4}},
		arcLine:             {casing: case_(3.8), ink: one(2, blue), round: true},
		lessonLine:          {casing: case_(3.6), ink: one(1.7, vermillion)},
		rayLine:             {casing: case_(3.2), ink: one(1.5, vermillion), dash: []float64{22, 5}},
		rayEdge:             {casing: case_(2.4), ink: one(1, vermillion), dash: []float64{8, 6}},
		rayHatch:            {ink: one(0.6, faded(vermillion, 0xa0))},
		secondLine:          {casing: case_(3.6), ink: one(1.9, blue), dash: []float64{14, 4, 4, 4}},
		secondEdge:          {casing: case_(2.4), ink: one(1, blue), dash: []float64{4, 6}},
		secondHatch:         {ink: one(0.6, faded(blue, 0xa0))},
		guessLine:           {casing: case_(2), ink: one(1, skyBlue)},
		guessMedian:         {casing: case_(4), ink: one(2.2, blue), dash: []float64{24, 5}},
		ledLine:             {casing: case_(3.8), ink: one(2, purple), dash: []float64{7, 4}},
		crossingLine:        {casing: case_(2.9), ink: one(1.4, green), round: true},
		fitsWellLine:        {casing: case_(2.6), ink: one(1.2, green), round: true},
		fitsBarelyLine:      {casing: case_(2.6), ink: one(1.2, orange), round: true},
		cragLine:            {casing: case_(4.2), ink: []band{{0, 1.6, orange}, rail(2.1, 0.6, black)}, round: true},
		steepLine:           {casing: case_(3.2), ink: one(1.6, orange), dash: []float64{9, 6}, round: true},
		waterLine:           {casing: case_(3.9), ink: []band{{0, 1.5, skyBlue}, rail(1.9, 0.5, blue)}, round: true},
		bogLine:             {casing: case_(2.6), ink: one(1.2, blue), dash: []float64{2, 6}, round: true},
		privateLine:         {casing: case_(2.9), ink: one(1.3, purple), dash: []float64{12, 5, 1, 5}, round: true},
		plantationLine:      {casing: case_(2.8), ink: one(1.2, green), dash: []float64{7, 6}, round: true},
		roughLine:           {casing: case_(2.4), ink: one(1, black), dash: []float64{1, 6}, round: true},
		offPathLine:         {casing: case_(2.4), ink: one(1, green), dash: []float64{1, 8}, round: true},
		pathAreaLine:        {casing: case_(2.4), ink: one(1, green), dash: []float64{14, 6, 1, 6}, round: true},
		havenLine:           {casing: case_(4.6), ink: []band{{0, 1.8, white}, rail(2.4, 0.8, green)}, round: true},
		followLine:          {casing: case_(2.8), ink: one(1.2, green), dash: []float64{18, 6}, round: true},
		catchingLine:        {casing: case_(3.6), ink: one(2, green), round: true},
		escapeLine:          {casing: case_(4), ink: wayOff, dash: morse},
		escapeChosen:        {casing: case_(5.2), ink: wayOffChosen, dash: morse},
		escapeStopped:       {casing: case_(4), ink: wayOff, dash: drafted},
		escapeChosenStopped: {casing: case_(5.2), ink: wayOffChosen, dash: drafted},
		slipLine:            {casing: case_(2.6), ink: one(1.1, vermillion), dash: []float64{9, 5, 1, 5, 1, 5}},
		shapeChosen:         {casing: case_(7.4), ink: []band{{0, 5.6, faded(yellow, 0xd0)}, rail(5.9, 0.7, vermillion)}, round: true},
		keepLine:            {casing: case_(1.7), ink: one(0.7, orange), dash: []float64{2, 4}},
		vertexDot:           {casing: case_(4.4), ink: one(3, vermillion), round: true},
		drawnLine:           {casing: case_(3.2), ink: one(1.5, vermillion), round: true},
		closingLine:         {casing: case_(2.2), ink: one(0.9, vermillion), dash: []float64{5, 6}, round: true},
		cragHatch:           {ink: one(0.6, faded(black, 0x90))},
		steepHatch:          {ink: one(0.7, faded(orange, 0xc0))},
		waterHatch:          {ink: one(0.6, faded(blue, 0x90))},
		privateHatch:        {ink: one(0.6, faded(purple, 0xb0))},
		greenHatch:          {ink: one(0.6, faded(green, 0xb0))},
		cannotFitLine:       {casing: case_(2.4), ink: one(1, black), round: true},
		slopeHatch:          {ink: one(0.5, faded(vermillion, 0xb0))},
		overHatch:           {ink: one(0.95, faded(vermillion, 0xe0))},
		contourLine:         {ink: one(0.5, faded(purple, 0xe0))},
		contourIndex:        {ink: one(0.95, purple)},
		voidCross:           {ink: one(0.6, faded(black, 0xb0))},
	}
}
