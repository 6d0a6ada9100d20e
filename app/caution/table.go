package caution

import "sync"

// row is what the table says of a code. In text {} stands for the subject and {1} to
// {3} for the values.
type row struct {
	code    Code
	grade   Grade
	affects Affects
	short   string // two to five words
	text    string // one or two sentences: what is wrong with the figure, then what to do
}

// rows is the table by code.
var rows = sync.OnceValue(func() map[Code]row {
	all := map[Code]row{}
	for _, list := range [][]row{wrongSheets(), looseSheets(), positions(), bearings(), magnetics(), latLons(), grounds(), times(), drawn(), escapes(), onEscapes(), turnBacks(), readings()} {
		for _, r := range list {
			all[r.code] = r
		}
	}
	return all
})

// rowOf returns the row of a code: for one that has none a stop on everything.
func rowOf(code Code) row {
	if r, ok := rows()[code]; ok {
		return r
	}
	return row{code: code, grade: Stop, affects: All}
}

// wrongSheets are stops: what speaks against the calibration is found, not merely
// possible, and every position read off the sheet may be a kilometre out.
func wrongSheets() []row {
	return []row{
		{Uncalibrated, Stop, All, "sheet not calibrated", "The sheet that this position was picked on is no longer calibrated. Calibrate the sheet before you use the position."},
		{SheetGone, Stop, All, "sheet no longer in plan", "The sheet that this position was picked on is no longer in the plan. Pick the position again."},
		{SlipNamed, Stop, All, "wrong control point", "{1}. Correct that before you use the sheet."},
		{SlipSet, Stop, All, "wrong control point", "One of these is wrong: {1}. Compare each with the map and correct the wrong one."},
		{PoorFit, Stop, All, "control points disagree", "The control points disagree: they are {1} out; up to {2} is allowed. Compare their references and positions with the map."},
		// Paper stretches by 1 to 2 %: more is a wrong reference.
		{Stretched, Stop, All, "map stretched too far", "With this calibration the map would be {1}, more than paper ever is. {2}."},
		{Mirrored, Stop, All, "picture mirrored", "The picture looks mirrored. Turn the scan over or flip it, then place the control points again."},
		{AxesSwapped, Stop, All, "easting, northing swapped", "Easting and northing look swapped at {1}. Compare with the map and type the easting first."},
		// Three points fit a scan, but leave a photograph's perspective open by many metres. Four
		// with one a square out passed for another tilt of the camera on 78 of 600 made photographs,
		// five on 5.
		{PhotoNeedsFive, Stop, All, "photo needs five points", "A photograph needs five control points: four can fit even if one of them is wrong. Add points, one of them near the middle, before you use the sheet."},
		// Its verdict may be any, so nothing gentler would do. It lasts as long as a hand moves a point.
		{NotJudged, Stop, All, "not judged yet", "The control points have just moved and the sheet is not judged yet. Wait a moment before you use it."},
		{HeightsDisagree, Stop, All, "heights disagree", "A height read off a contour differs from the terrain there by {1}; up to {2} is allowed. Read the contour's height on the map again, and compare the terrain with what you know of the ground."},
		{EvidenceDisagree, Stop, All, "a check disagrees", "{1} is {2} from where the calibration puts it; up to {3} is allowed. Compare it and the control points with the map."},
		{FileDisagrees, Stop, All, "printed grid disagrees", "The printed grid disagrees with the position in the file: its intersections are {1} out. Recalibrate the sheet before you use it."},
		{IntersectionAstray, Stop, All, "printed grid disagrees", "The intersection named {1} is {2} from where the file puts it. Compare the reference with the map: either it or the file is wrong."},
		{SquareDiffers, Stop, All, "squares disagree", "According to the file the squares are {1} wide, not {2}. Look in the margin to see which is right."},
	}
}

// looseSheets are notes: nothing is known to be wrong, and the position's own ±
// already holds what is loose. Where it does not, as outside the control points, the
// position carries a stop of its own.
func looseSheets() []row {
	return []row{
		// Every new sheet is unchecked: as a stop it would soon be wallpaper.
		{Unchecked, Note, All, "sheet unchecked", "The sheet is unchecked. Compare it with a feature that was not used to calibrate it."},
		{ScopeGrid, Note, LatLon, "lat/lon unchecked", "The sheet's grid is checked, but its latitude and longitude are not. Check a corner whose latitude and longitude are printed."},
		{RestsOnUnchecked, Note, All, "checked from an unchecked sheet", "The check comes from {1}, which is itself unchecked. Check that sheet first."},
		{OpenSlip, Note, All, "a mistake would not show", "A wrong reference might not show on this sheet: {1}. {2}."},
		{NoRedundancy, Note, All, "too few control points", "A wrong reference would not show: there are only just enough control points. Add one more and see whether it agrees."},
		{ShortReach, Note, Position | Bearing, "control points in one part", "The control points are all in one part of the map: the corner farthest from them is known to ± {1} at best. Add a point there."},
		{WeakBase, Note, Bearing | Magnetic, "control points too close", "The control points lie close together: the sheet's direction is only known to ± {1}. Put them farther apart."},
		// Two points on a photograph or an unusual map look like this without any slip.
		{UnlikelyRotation, Note, All, "sheet askew", "The two references would turn the sheet {1} from upright. Compare both with the map."},
		{UnlikelyScale, Note, All, "unusual scale", "The two references give an unusual scale: {1}. Compare both with the map."},
	}
}

// positions are cautions about one position.
func positions() []row {
	return []row{
		// The stated ± does not hold there, so nothing else would tell.
		{OutsidePoints, Stop, Position | Bearing | Magnetic | LatLon, "outside the control points", "{} lies {1} outside the control points, where the calibration is a guess. Add a control point beyond it."},
		// So far out, a wrong letter, digit or zone is likelier than a map.
		{OutsideArea, Stop, All, "outside the grid's area", "{} lies outside the area of {1} ({2}). Compare its reference and the grid with the map."},
		// Sheets along the edge of a zone are printed past it, and the projection is exact there.
		{AreaEdge, Note, LatLon, "edge of the grid's area", "{} lies just outside the area of {1} ({2}). Make sure that the sheet is printed on that grid."},
		// The lending sheet is unchecked, which is a note of its own.
		{LettersInferred, Note, Position, "grid letters assumed", "The grid letters of {} were not typed: they come from {1}. Type them to be sure."},
		// Letters from the wrong sheet put a position 100 km out.
		{LettersAstray, Stop, All, "grid letters uncertain", "The grid letters of {} come from {1}, so the position may be 100 km out. Type the reference with its letters."},
		// A file is believed in what it speaks against, whatever the map here says.
		{ImportedStop, Stop, All, "imported with a stop", "{} comes from a file that says not to rely on it: {1}. Compare the position with the map."},
		{ImportedNote, Note, All, "imported with a caution", "{} comes from a file with a caution on it: {1}. Compare the position with the map."},
	}
}

// bearings are cautions about the bearing of a leg.
func bearings() []row {
	return []row{
		// ± 10° is 170 m to each side in a kilometre: nobody finds a feature by that.
		{VagueBearing, Stop, Bearing | Magnetic, "bearing too vague", "The bearing is only known to ± {1}. Choose ends that are farther apart or better known."},
		// A careful party holds ± 3° (common practice, no source).
		{RoughBearing, Note, Bearing | Magnetic, "rough bearing", "The bearing is only known to ± {1}. Walk to a catching feature."},
		// The bearing is corrected for it; only the paper misleads.
		{BentGrid, Note, Bearing, "grid distorts angles", "{1}."},
	}
}

// magnetics are cautions about the magnetic bearing. Where there is none the figure
// is left out, so that a note is enough.
func magnetics() []row {
	return []row{
		{NoDate, Note, Magnetic, "no date set", "There is no magnetic bearing because no date is set. Set the date of the outing."},
		{OutsideModel, Note, Magnetic, "date outside magnetic model", "There is no magnetic bearing for {1}: the magnetic model covers {2}. Set the date of the outing."},
		// World Magnetic Model 2025 report: below 2,000 nT horizontally compasses are unreliable.
		{BlackoutZone, Stop, Bearing | Magnetic, "compass unusable here", "The earth's magnetic field is too weak here for a compass. Do not use one."},
		// The same report, 2,000 to 6,000 nT: the ± of the bearing holds what the model knows of it.
		{WeakField, Note, Magnetic, "weak magnetic field", "The earth's magnetic field is weak here and a compass may be far out. Check it against what you see."},
		// The figure to set already makes up for it.
		{HousingOff, Note, Magnetic, "compass set for another declination", "The compass housing is set to {1}, but the GMA here is {2}. The figure to set allows for that: do not correct again."},
		// It is for the screen of a lesson; no figure made with it leaves the program.
		{TrainingGMA, Stop, Magnetic, "training GMA", "This figure uses the training GMA of {1}, which is not the GMA here. Do not walk on it."},
	}
}

// latLons are cautions about latitude and longitude alone. They never mark a leg:
// bearings and distances on the sheet hold.
func latLons() []row {
	return []row{
		{CoarseShift, Note, LatLon, "lat/lon may be metres out", "Latitude and longitude may be {1} out ({2}). Bearings and distances are not affected."},
		{ShiftUnknown, Stop, LatLon, "lat/lon unknown", "Latitude and longitude may be hundreds of metres out ({1}). Do not send them to a receiver."},
	}
}

// grounds are cautions about what terrain says, and about what it cannot.
func grounds() []row {
	return []row{
		{NoTerrain, Note, Height, "no terrain here", "The terrain does not cover the whole of this leg, so its climb is not known. Open terrain that covers it, or count the contours."},
		{TerrainUnread, Note, Height, "terrain unread", "The terrain file {1} cannot be read: {2}. The climb on the ground it covers is not known."},
		// A model forbids ground, it never clears it.
		// A path may lead through, and hill legs of 20° are common: as a stop it would be wallpaper.
		{SteepLeg, Note, OnLeg | Height, "over-steep under the leg", "Over-steep, {1}: the terrain is up to {2} steep under the straight line. Find a path through the steep ground on the map, or reroute the leg."},
		// 10° within 150 m downhill (common practice, no source).
		{ConvexGround, Note, Height, "convex: drop out of sight", "Convex, {1}: the ground below steepens by 10° or more within 150 m downhill. You will not see the drop."},
		{BlindTerrain, Note, Height, "low crags do not show", "Crags lower than about {1} do not show in this terrain. Look for them on the map and on the ground."},
	}
}

// times are cautions about walking time and light.
func times() []row {
	return []row{
		{NoWayThrough, Stop, Bearing | Magnetic | Time, "through plantation", "The leg goes through plantation, where nobody can hold a bearing. Reroute it."},
		// Tranter's table leaves these cells empty: "too much to be attempted".
		{TooMuch, Stop, Time, "route too long", "According to Tranter's table, this route is too much for the party. Shorten it."},
		{InTheDark, Note, Time, "in the dark", "Part of the leg is walked in the dark: {1}. Start at another time or shorten the route."},
		{AfterSunset, Note, Time, "after sunset", "The leg ends at {1}, after sunset. In valleys and under cloud it gets dark even sooner."},
		// A zone is seldom more than two hours from the sun (common practice, no source).
		{ZoneOffSun, Note, Time, "clock far from the sun", "The clock in {1} is {2} the sun here. Make sure that the plan has the right time zone."},
	}
}

// escapes are cautions about an escape as a whole.
func escapes() []row {
	return []row{
		// As long as it stands nobody knows whether it is a draft or meets a hazard.
		{EscapeNotJudged, Stop, OnLeg, "not judged yet", "The escape or something near it has just changed, and the escape is not judged yet. Wait a moment before you use it."},
		{EscapeDraft, Stop, OnLeg, "DRAFT", "DRAFT: {1} to tick. Look at the contours, crags, water and end feature on the map, leg by leg."},
		{EscapeStart, Stop, OnLeg, "start not recognisable in cloud", "The escape does not begin at a mark that is recognisable in cloud. Begin it where you can be sure of your position."},
		{EscapeNoHaven, Stop, OnLeg, "leads to no haven", "The escape does not end at a haven. Continue it to a road, a hut or a valley path."},
		{HavenNoShelter, Note, Position, "haven gives no shelter", "You cannot count on shelter at {1} ({2}). Carry a key, or plan a way on from there."},
		{EscapeOffRoute, Note, Position, "does not start on the route", "No leg of the route begins or ends where the escape begins. Begin it at an end of a leg."},
		{EscapeEnd, Note, Position | Bearing, "end easily missed", "The last leg does not end on a line, and there is none within 200 m beyond its end: you could walk past without noticing. End it on a line, or just before one."},
		{EscapeClimbsAgain, Note, Height | Time, "climbs again", "The escape climbs back up {1} after a descent. Look for a way that keeps going down."},
		{EscapeDark, Note, Time, "in the dark", "By the plan's clock the escape ends at {1}, in the dark. Its times, and how long a leg may be, allow for that."},
		// The leader's own look at the map is the only judge of these.
		{DriftNotJudged, Note, OnLeg, "drift not judged", "Not judged here: drift off a bearing, miscounted paces, a wrong start, a leg walked the wrong way, a GMA with the wrong sign, crags that nobody drew."},
		{SnowNotJudged, Note, OnLeg, "snow not judged", "Snow, cornices and avalanches are not judged."},
		{SnowNotAnswered, Note, OnLeg, "snow not answered", "Is snow lying? Answer for this outing."},
	}
}

// drawn are cautions about what is drawn on the ground near a leg.
func drawn() []row {
	return []row{
		{NearHazard, Stop, OnLeg, "too near a hazard", "The leg comes {1}, {2} from its start. Reroute it."},
		// By day, and seen, people walk beside crags and to the water: as a stop it would be wallpaper.
		{PassesHazard, Note, OnLeg, "passes a hazard", "The leg comes {1}, {2} from its start. Keep away from there in cloud and in the dark."},
		// A hazard at an unknown position cannot be kept away from.
		{HazardUncertain, Stop, OnLeg, "hazard's position unknown", "The position of {1} is not known: {2}. Draw it again."},
		{EntersPrivate, Stop, OnLeg, "through private ground", "The leg enters {1}, {2} from its start. Reroute it."},
		{ThroughBog, Note, Position | Time, "through bog", "The leg goes through {1} for {2}. Its time allows for that."},
		{CrossesFord, Note, Position | Time, "through a ford", "The leg fords {1}, {2} from its start. After rain it may be impassable."},
		{EntersPlantation, Stop, OnLeg | Time, "through plantation", "The leg enters {1}, {2} from its start. Nobody can hold a bearing there: reroute the leg."},
		// A ride on a map may be overgrown or blocked by fallen trees (common practice, no source).
		{LineInPlantation, Note, Position | Time, "on a line through plantation", "The line that the leg follows enters {1}, {2} from its start. Make sure that it is open there: you cannot leave it."},
		// An area is no danger: the time alone may be wrong.
		{AreaUncertain, Note, Time, "area's position unknown", "The position of {1} is not known ({2}), so the walking time may not allow for it. Draw it again."},
		{SlipMeets, Note, OnLeg, "a mistake leads to danger", "A compass mistake ({1}) would lead you {2}. Check the bearing twice before you set off."},
	}
}

// onEscapes are cautions about one leg of an escape.
func onEscapes() []row {
	return []row{
		{EscapeUnread, Stop, OnLeg, "leg cannot be read", "The leg cannot be read: {1}."},
		{LineAstray, Stop, OnLeg, "leaves its line", "The leg should follow a line but strays {1} from it. Draw it again along the line."},
		{SteepAhead, Stop, OnLeg | Height, "over-steep ground", "Over-steep, {1}: the terrain is up to {2} steep. Reroute the leg."},
		{SteepBeside, Note, Height, "over-steep on a line", "Over-steep, {1}: the terrain is up to {2} steep. Make sure on the map that the path or line you follow really crosses this ground."},
		{SteepnessUnknown, Note, Height, "steepness not judged", "The terrain does not show how steep the whole leg is. Read the contours."},
		{NothingDrawn, Note, OnLeg, "no hazard drawn nearby", "No crag or water is drawn near this leg: look at the map."},
		// 500 m by day and 300 m in the dark (common practice, no source).
		{EscapeLongLeg, Note, Position | Bearing, "long compass leg", "The leg is {1} on the compass; up to {2} is usual. Divide the leg at a feature on the way."},
	}
}

// turnBacks are cautions about when to turn back.
func turnBacks() []row {
	return []row{
		{TurnBackPassed, Stop, Time, "past the turn-back time", "You reach {} at {1}, but the latest time to leave it by its escape is {2}. Start earlier or shorten the route."},
		// Polar day and polar night.
		{NoLatestHour, Stop, Time, "no latest time off the hill", "{1}. Set the time by which you must be off the hill."},
		{TurnBackUnknown, Note, Time, "no turn-back time", "There is no turn-back time at {}: {1}."},
		{ReachFlat, Note, Time, "reached later than the clock says", "The climb on the way to {} is not known, so you get there later than {1}. Count the contours of the legs before it."},
		// More than the day: an hour of the day before would read like one of this day.
		{NoTurnBack, Stop, Time, "no time for its escape", "The escape from {}, with its margin, is too long: you would have to start the day before to be off the hill by {1}. Draw a shorter one."},
	}
}

// readings are notes about how something was read: they say what was taken where
// there was a choice.
func readings() []row {
	return []row{
		{LettersTaken, Note, Position, "grid letters assumed", "The reference {1} has no letters and was read as {2}. Type its letters to be sure."},
		{LatLonDatum, Note, Position, "datum assumed", "{1}."},
		{PageDrawn, Note, Position, "page drawn", "{1}."},
		{PageChosen, Note, Position, "page chosen", "{1}."},
		{PictureRemark, Note, Position, "about the picture", "{1}."},
		{FileRemark, Note, Position, "about the georeference", "{1}."},
		{WorldFile, Note, Position, "world file unread", "{1}. The picture is read without it."},
	}
}
