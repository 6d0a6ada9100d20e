package plan

import "slices"

// KindInfo describes a kind of things.
type KindInfo struct {
	Kind      Kind
	One, Many string // "leg", "legs": for people, as prefix of IDs, and as the list's key in files
	Most      int    // how many a plan may have
}

// Word returns what people call one thing of that kind, such as "leg".
func (k Kind) Word() string {
	for _, l := range lists() {
		if l.info().Kind == k {
			return l.info().One
		}
	}
	return "thing"
}

// Words returns what people call several things of that kind, such as "legs".
func (k Kind) Words() string {
	for _, l := range lists() {
		if l.info().Kind == k {
			return l.info().Many
		}
	}
	return "things"
}

// parts are the fields that things of every kind have in common. They point into a
// thing. A kind without one of them leaves it nil.
type parts struct {
	id        *ID
	name      *string
	from      *string     // the import that it came with
	notes     []*string   // texts that may have several lines
	ends      []*End      // points that may stand on a mark
	positions []*Position // points of its own
	// vertices are the points of its own where their number may change, and least how
	// many there must be.
	vertices *[]Position
	least    int
}

// thing is what a type of things must offer.
type thing[T any] interface {
	*T
	parts() parts
	// bad says what beside its parts cannot be, or "".
	bad() string
}

// list is a list of things in a plan, whatever their type.
type list interface {
	info() KindInfo
	count(p *Plan) int
	// each calls f for every thing until f returns false. f must not change the parts.
	each(p *Plan, f func(i int, x parts) bool) bool
	// change calls f for a copy of every thing of q, which takes the place of the
	// thing if f returns true. The list itself is then another one.
	change(q *Plan, f func(x parts) bool)
	// remove takes the things out of q for which f returns true.
	remove(q *Plan, f func(x parts) bool)
	// validate returns what is wrong with the first thing that cannot be.
	validate(p *Plan, c *checking) error
	// shared reports whether two plans share the list.
	shared(p, q *Plan) bool
}

// listOf is the list of things of type T.
type listOf[T any, P thing[T]] struct {
	KindInfo
	of func(*Plan) *[]T
}

func (l listOf[T, P]) info() KindInfo { return l.KindInfo }

func (l listOf[T, P]) count(p *Plan) int { return len(*l.of(p)) }

func (l listOf[T, P]) each(p *Plan, f func(i int, x parts) bool) bool {
	var x T
	for i, y := range *l.of(p) {
		x = y
		if !f(i, P(&x).parts()) {
			return false
		}
	}
	return true
}

func (l listOf[T, P]) change(q *Plan, f func(x parts) bool) {
	old := *l.of(q)
	var out []T
	var x T
	for i, y := range old {
		x = y
		if own, ok := any(P(&x)).(interface{ unshare() }); ok {
			own.unshare()
		}
		if !f(P(&x).parts()) {
			continue
		}
		if out == nil {
			out = slices.Clone(old)
		}
		out[i] = x
	}
	if out != nil {
		*l.of(q) = out
	}
}

func (l listOf[T, P]) remove(q *Plan, f func(x parts) bool) {
	left := slices.DeleteFunc(slices.Clone(*l.of(q)), func(x T) bool { return f(P(&x).parts()) })
	if len(left) < len(*l.of(q)) {
		*l.of(q) = left
	}
}

func (l listOf[T, P]) validate(p *Plan, c *checking) error {
	for i, x := range *l.of(p) {
		part := P(&x).parts()
		where := called(l.One, i, *part.name)
		if err := c.parts(where, part); err != nil {
			return err
		}
		if r := P(&x).bad(); r != "" {
			return &Invalid{where, r}
		}
	}
	return nil
}

func (l listOf[T, P]) shared(p, q *Plan) bool {
	a, b := *l.of(p), *l.of(q)
	return len(a) == len(b) && (len(a) == 0 || &a[0] == &b[0])
}
