// Package crs reads and writes definitions of grids: PROJ strings, and well-known text of
// version 1 and 2. A Definition is a projection with its parameters, an ellipsoid, a datum
// and a unit; package geodesy makes a grid of it, or finds it in its catalogue.
package crs
