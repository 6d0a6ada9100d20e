// Package placemark writes features as placemarks of KML 2.2 (OGC 07-147r2). mapio/kml reads
// the pictures that KML lays over the ground: it serves the opening of maps, and must not know plans.
package placemark
