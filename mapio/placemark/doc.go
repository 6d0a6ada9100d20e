// Package placemark writes features as placemarks of KML 2.2 (OGC 07-147r2). Pictures that KML
// lays over the ground are read by mapio/kml, which pictures of maps need and which must know no
// plan.
package placemark
