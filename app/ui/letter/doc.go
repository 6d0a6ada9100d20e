// Package letter sets lines of text into pictures, for the parts of the bench
// that are drawn as one picture: a text object of the toolkit costs more of
// each frame than a hundred letters here. It sets one line from left to right
// in one colour; it breaks no lines and knows no widgets.
package letter
