package caution

// Cautions about a sheet and its calibration.
const (
	Uncalibrated     Code = "uncalibrated"       // a sheet that something was picked on has no calibration
	SheetGone        Code = "sheet-gone"         // that sheet is no longer in the plan
	Unchecked        Code = "unchecked"          // nothing but its control points speaks for the calibration
	ScopeGrid        Code = "scope-grid"         // checked on its grid, latitude and longitude not
	RestsOnUnchecked Code = "rests-on-unchecked" // what checks the sheet is on a sheet that is unchecked
	OpenSlip         Code = "open-slip"          // a wrong reference might not show
	SlipNamed        Code = "slip-named"         // one slip explains what the points say
	SlipSet          Code = "slip-set"           // one of several does
	PoorFit          Code = "poor-fit"           // the points do not agree
	Stretched        Code = "stretched"          // the paper would be stretched more than paper is
	Mirrored         Code = "mirrored"           // left and right are swapped in the picture
	AxesSwapped      Code = "axes-swapped"       // easting and northing are swapped at one point or all
	PhotoNeedsFive   Code = "photo-needs-five"   // a photograph with fewer than five points
	NotJudged        Code = "not-judged"         // its control points have just moved
	EvidenceDisagree Code = "evidence-disagrees" // what was to check the sheet speaks against it
	HeightsDisagree  Code = "heights-disagree"   // heights read off contours are not those of the terrain
	FileDisagrees    Code = "file-disagrees"     // the printed grid speaks against the file's georeference
	NoRedundancy     Code = "no-redundancy"      // too few points to check each other
	ShortReach       Code = "short-reach"        // all points in one part of the picture
	WeakBase         Code = "weak-base"          // points too close together for a direction
	UnlikelyRotation Code = "unlikely-rotation"  // two points: far from a quarter turn
	UnlikelyScale    Code = "unlikely-scale"     // two points: no usual map scale
)

// Cautions about a position or a leg.
const (
	OutsidePoints   Code = "outside-points"   // picked where the control points do not reach
	OutsideArea     Code = "outside-area"     // far outside the area of the grid
	AreaEdge        Code = "area-edge"        // a little outside it
	VagueBearing    Code = "vague-bearing"    // vaguer than ± 10°
	RoughBearing    Code = "rough-bearing"    // vaguer than ± 3°
	NoDate          Code = "no-date"          // no magnetic bearing for want of a date
	OutsideModel    Code = "outside-model"    // none because the date is outside the magnetic model
	BlackoutZone    Code = "blackout-zone"    // the field is too weak for a compass
	WeakField       Code = "weak-field"       // the field is weak
	HousingOff      Code = "housing-off"      // the housing is set to another angle than today's
	BentGrid        Code = "bent-grid"        // the grid does not keep angles
	CoarseShift     Code = "coarse-shift"     // latitude and longitude are off by metres
	ShiftUnknown    Code = "shift-unknown"    // nothing is known of the grid's datum
	LettersInferred Code = "letters-inferred" // letters taken from a sheet that is unchecked
	LettersAstray   Code = "letters-astray"   // letters from a sheet that is gone, wrong or elsewhere now
	ImportedStop    Code = "imported-stop"    // the file of an imported position puts a stop on it
	ImportedNote    Code = "imported-note"    // that file puts a note on it
	TrainingGMA     Code = "training-gma"     // made with a GMA that was declared for a lesson
)

// Cautions about the ground.
const (
	NoTerrain     Code = "no-terrain"     // the plan's terrain does not reach under all of a leg
	TerrainUnread Code = "terrain-unread" // a terrain file of the plan that cannot be read
	BlindTerrain  Code = "blind-terrain"  // what is lower than so much does not show between its posts
	SteepLeg      Code = "steep-leg"      // a leg of the route over over-steep ground
	ConvexGround  Code = "convex-ground"  // the ground below a leg steepens out of sight
)

// Cautions about walking time and light.
const (
	NoWayThrough Code = "no-way-through" // the leg goes through plantation
	TooMuch      Code = "too-much"       // Tranter's table calls the route too much to be attempted
	InTheDark    Code = "in-the-dark"    // the leg is walked before or after civil twilight
	AfterSunset  Code = "after-sunset"   // it ends after sunset
	ZoneOffSun   Code = "zone-off-sun"   // the clock is far from the sun
)

// Cautions about what is drawn on the ground near a leg.
const (
	NearHazard      Code = "near-hazard"      // nearer to a hazard than the distance to keep
	PassesHazard    Code = "passes-hazard"    // a leg of the route within that distance
	HazardUncertain Code = "hazard-uncertain" // nobody knows where a hazard is
	EntersPrivate   Code = "enters-private"   // a leg through private ground
	ThroughBog      Code = "through-bog"      // a leg through bog
	CrossesFord     Code = "crosses-ford"     // a leg through a ford

	EntersPlantation Code = "enters-plantation"  // a leg through an area of plantation
	LineInPlantation Code = "line-in-plantation" // a path, track or road through one
	AreaUncertain    Code = "area-uncertain"     // nobody knows where an area of ground is

	SlipMeets Code = "slip-meets-hazard" // a usual slip leads to a hazard
)

// Cautions about escapes.
const (
	EscapeNotJudged   Code = "escape-not-judged" // something about it has just changed
	EscapeDraft       Code = "escape-draft"      // not all of it is ticked
	EscapeStart       Code = "escape-start"      // it begins at nothing that is recognisable in cloud
	EscapeNoHaven     Code = "escape-no-haven"   // it ends at no haven
	HavenNoShelter    Code = "haven-no-shelter"  // its haven lets nobody in
	EscapeOffRoute    Code = "escape-off-route"  // its mark is not on the route
	EscapeUnread      Code = "escape-unread"     // one of its legs has no bearing
	EscapeEnd         Code = "escape-end"        // nothing shows that its last leg is over
	EscapeLongLeg     Code = "escape-long-leg"   // a long compass leg
	EscapeClimbsAgain Code = "climbs-again"      // height that was lost is climbed again
	EscapeDark        Code = "escape-dark"       // it would be walked in the dark
	LineAstray        Code = "line-astray"       // a leg along a line leaves it, or the line is gone
	SteepAhead        Code = "steep-ahead"       // a compass leg over over-steep ground
	SteepBeside       Code = "steep-beside"      // a line over over-steep ground
	SteepnessUnknown  Code = "steepness-unknown" // no terrain judges a leg
	NothingDrawn      Code = "nothing-drawn"     // no danger is drawn near a leg
	DriftNotJudged    Code = "drift-not-judged"  // stands with every escape
	SnowNotJudged     Code = "snow-not-judged"   // stands with every escape
	SnowNotAnswered   Code = "snow-not-answered" // nobody said whether snow is lying
	TurnBackPassed    Code = "turn-back-passed"  // a mark is reached after its turn-back time
	NoLatestHour      Code = "no-latest-hour"    // neither sunset nor a time in its place
	TurnBackUnknown   Code = "turn-back-unknown" // something is missing for a turn-back time
	NoTurnBack        Code = "no-turn-back"      // an escape takes longer than the day has hours
	ReachFlat         Code = "reach-flat"        // when a mark is reached leaves out climb that is not known
)

// Cautions about how something was read.
const (
	LettersTaken       Code = "letters-taken"        // a typed reference without letters
	LatLonDatum        Code = "latlon-datum"         // the datum that latitudes were taken on
	PageDrawn          Code = "page-drawn"           // the resolution a page was drawn at
	PageChosen         Code = "page-chosen"          // the page that was read
	PictureRemark      Code = "picture-remark"       // what the reader of a picture has to say
	FileRemark         Code = "file-remark"          // what the reader of a georeference has to say
	WorldFile          Code = "world-file"           // a world file that cannot be used
	SquareDiffers      Code = "square-differs"       // the side given is not the file's
	IntersectionAstray Code = "intersection-differs" // a named intersection is not where the file has it
)
