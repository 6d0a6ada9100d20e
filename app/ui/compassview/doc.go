// Package compassview shows the compass that baseplate draws in a window: a square
// picture in the colours of the theme, which turns from one step to the next. What the
// steps are and what they mean is app/teach's.
package compassview
