package uitest

import "time"

// Clock stands for the clock of a room that waits: time passes where the test says so.
// The zero value is ready. Like the window it belongs to the test's goroutine.
type Clock struct {
	now   time.Duration
	waits []waiting
}

type waiting struct {
	until time.Duration
	do    func()
}

// After has a function run once so much time has passed.
func (c *Clock) After(d time.Duration, f func()) { c.waits = append(c.waits, waiting{c.now + d, f}) }

// Pass lets time pass and runs what is due, in the order in which it falls due.
func (c *Clock) Pass(d time.Duration) {
	end := c.now + d
	for {
		next := -1
		for i, w := range c.waits {
			if w.until <= end && (next < 0 || w.until < c.waits[next].until) {
				next = i
			}
		}
		if next < 0 {
			break
		}
		due := c.waits[next]
		c.waits = append(c.waits[:next], c.waits[next+1:]...)
		c.now = due.until
		due.do()
	}
	c.now = end
}
