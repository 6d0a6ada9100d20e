package geodesy

import "strconv"

// datumNames are the names of a datum and of its latitude and longitude in
// well-known text of version 1.
type datumNames struct{ base, datum string }

// wktNames returns the names as GDAL writes them, so that other programs know
// the datum by its name too.
func (d knownDatum) wktNames() datumNames {
	switch d.geographic {
	case epsgLatLon:
		return datumNames{"WGS 84", "WGS_1984"}
	case 4269:
		return datumNames{"NAD83", "North_American_Datum_1983"}
	case 4267:
		return datumNames{"NAD27", "North_American_Datum_1927"}
	case 4277:
		return datumNames{"OSGB36", "Ordnance_Survey_of_Great_Britain_1936"}
	case 4314:
		return datumNames{"DHDN", "Deutsches_Hauptdreiecksnetz"}
	case 4149:
		return datumNames{"CH1903", "CH1903"}
	case 4150:
		return datumNames{"CH1903+", "CH1903+"}
	case 4313:
		return datumNames{"BD72", "Reseau_National_Belge_1972"}
	case 4300:
		return datumNames{"TM75", "Geodetic_Datum_of_1965"}
	case 4258:
		return datumNames{"ETRS89", "European_Terrestrial_Reference_System_1989"}
	case 4173:
		return datumNames{"IRENET95", "IRENET95"}
	case 4167:
		return datumNames{"NZGD2000", "New_Zealand_Geodetic_Datum_2000"}
	case 4659:
		return datumNames{"ISN93", "Islands_Net_1993"}
	case 4171:
		return datumNames{"RGF93 v1", "Reseau_Geodesique_Francais_1993_v1"}
	case 4619:
		return datumNames{"SWEREF99", "SWEREF99"}
	case 6668:
		return datumNames{"JGD2011", "Japanese_Geodetic_Datum_2011"}
	case 7844:
		return datumNames{"GDA2020", "Geocentric_Datum_of_Australia_2020"}
	}
	return d.furtherNames()
}

func (d knownDatum) furtherNames() datumNames {
	switch d.geographic {
	case 4283:
		return datumNames{"GDA94", "Geocentric_Datum_of_Australia_1994"}
	case 4674:
		return datumNames{"SIRGAS 2000", "Sistema_de_Referencia_Geocentrico_para_las_AmericaS_2000"}
	case 4612:
		return datumNames{"JGD2000", "Japanese_Geodetic_Datum_2000"}
	case 4272:
		return datumNames{"NZGD49", "New_Zealand_Geodetic_Datum_1949"}
	case 4299:
		return datumNames{"TM65", "TM65"}
	case 4312:
		return datumNames{"MGI", "Militar-Geographische_Institut"}
	case 4223:
		return datumNames{"Carthage", "Carthage"}
	case 4121:
		return datumNames{"GGRS87", "Greek_Geodetic_Reference_System_1987"}
	}
	code := "EPSG " + strconv.Itoa(d.geographic)
	return datumNames{code, code}
}
