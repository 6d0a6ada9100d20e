// Package thinglist is a list of things of the plan, from which a click or the keys
// select one in the session. Only the rows that are seen exist; a long list has a field
// that filters it by name. What a row says is the panel's.
package thinglist
