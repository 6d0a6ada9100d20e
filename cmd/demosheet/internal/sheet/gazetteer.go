package sheet

// names lists every name of the sheet; all are invented.
func names() []name {
	var out []name
	put := func(k kind, text string, e, n, anchor float64) {
		out = append(out, name{kind: k, text: text, at: at(e, n), anchor: anchor})
	}
	along := func(k kind, text string, pairs ...float64) {
		out = append(out, name{kind: k, text: text, via: en(pairs...)})
	}
	along(islandName, "HALVASAY", 24200, 746540, 25450, 746760, 26700, 746540)
	along(islandName, "BRISGERAY", 31550, 743830, 32500, 743690, 33450, 743830)
	put(isletName, "Drulisay", 22120, 742820, 0.5)
	put(isletName, "Osnigay", 32330, 740780, 0.5)

	put(topName, "Beinn Orrach", 25700, 744215, 1)
	put(topName, "Sgùrr Tharvaig", 26860, 744240, 0)
	put(topName, "Meall Onnal", 27130, 744930, 0)
	put(topName, "Stob Vrannal", 24790, 745240, 1)
	put(topName, "Cnoc Tirrevan", 23660, 745930, 0.5)
	put(topName, "Cnoc Lurgan", 29100, 744190, 0.5)
	put(topName, "Càrn Brisg", 32030, 745640, 0.5)
	put(groundName, "Bealach nan Ròp", 26640, 744700, 1)
	put(groundName, "Coire Skarrach", 26230, 744010, 0.5)
	along(hillName, "Druim Sneskal", 25560, 743600, 25480, 743000, 25420, 742300)
	along(hillName, "Monadh Lurgan", 28500, 744560, 29100, 744480, 29700, 744460)
	put(groundName, "Mòine Lachar", 29700, 742980, 0.5)
	put(groundName, "Coille", 28125, 743770, 0.5)
	put(groundName, "Drennal", 28125, 743670, 0.5)

	put(placeName, "Skelvig", 27930, 742925, 0.5)
	put(builtName, "Quay", 27400, 743060, 1)
	put(builtName, "Bothan Ruisg", 26145, 745570, 0)
	put(builtName, "Cairn", 27470, 745110, 0)
	put(placeName, "Ulvost", 23900, 744175, 0.5)
	put(builtName, "Light", 29920, 742270, 1)

	put(waterSmall, "Lochan Ullaidh", 25800, 745190, 0)
	put(waterSmall, "Loch Skeorra", 26790, 743560, 0.5)
	put(waterSmall, "Loch Fearnal", 28650, 743450, 0)
	put(waterSmall, "Lochan Dubrais", 29440, 743330, 0)
	put(waterSmall, "An Linne Vig", 29680, 743650, 0)
	put(waterSmall, "Lochan Tirrevan", 24215, 745570, 0)
	put(waterSmall, "Loch Vannal", 23740, 744400, 0)
	put(waterSmall, "Loch Trosg", 32610, 745420, 0)
	along(waterSmall, "Allt Fernaskal", 27830, 744900, 27760, 744500, 27700, 744200)

	put(waterLarge, "Camas Skelvig", 28700, 742520, 0.5)
	put(waterLarge, "Camas Hurnal", 25950, 746120, 0.5)
	put(waterLarge, "Bàgh Ulvost", 23400, 743500, 0.5)
	put(waterSmall, "Rubha Lannost", 28330, 747060, 0)
	put(waterSmall, "Rubha Sneskal", 25260, 741230, 0.5)
	put(waterSmall, "Ceann Drummal", 30240, 742080, 0)
	put(waterSmall, "Rubha Torrost", 23760, 746950, 0.5)
	put(waterSmall, "Sgeir Hurnal", 22500, 747080, 1)
	put(waterSmall, "Eilean na Gruaig", 30180, 747310, 0.5)
	put(waterSmall, "Stac Uralan", 21600, 744220, 0.5)
	along(seaName, "SOUND OF BRISGERAY", 30350, 746700, 30850, 745500, 31000, 744300, 30850, 742900)
	along(seaName, "CAOLAS DRULISAY", 23000, 743050, 23700, 742450, 23950, 741500, 23800, 740500)
	along(seaName, "CUAN HALVASAY", 26300, 740740, 27300, 740660, 28300, 740740)
	return out
}

type spot struct {
	e, n   float64
	anchor float64
}

// spotList lists the tops and cols whose height is printed; the figure is read from the ground.
func spotList() []spot {
	return []spot{
		{26690, 744360, 0},
		{27070, 744900, 1},
		{24850, 745130, 0},
		{25340, 744690, 1},
		{24350, 744860, 1},
		{23360, 744830, 1},
		{23610, 745780, 0},
		{29030, 744080, 0},
		{26730, 744600, 1},
	}
}
