// Package dial is the bench's instrument panel: the drawn compass housing with
// the bearing at its index and, beneath it, the figure to set and the other
// readings of a leg as text. It shows what it is given and computes nothing;
// what the picture means is stated in the package housing below it.
package dial
