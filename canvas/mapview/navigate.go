package mapview

import "legwright/canvas/view"

// View is how the sheet is shown; the zero View while there is none.
func (m *MapView) View() view.View { return m.view }

// SetView shows the sheet as v says; the size of the map area is its own.
func (m *MapView) SetView(v view.View) {
	if m.pic == nil || v.IsZero() {
		return
	}
	w, h := m.view.Viewport()
	m.setView(v.WithViewport(w, h))
}

// change applies a move to the view at once, if there is a sheet. A move under
// way is brought to its end before.
func (m *MapView) change(f func(view.View) view.View) {
	if m.pic != nil {
		m.finish()
		m.setView(f(m.view))
	}
}

// head moves to where f leads from where the view is going, animated.
func (m *MapView) head(f func(view.View) view.View) {
	if m.pic != nil {
		m.glide(f(m.goal()))
	}
}

// Fit shows the whole sheet, and again after each change of the window's size
// until the sheet is moved.
func (m *MapView) Fit() {
	m.fitted = m.goal().Fit()
	m.head(view.View.Fit)
}

// OneToOne shows one picture pixel on one physical screen pixel, about the
// keyboard cursor or the middle.
func (m *MapView) OneToOne() {
	m.head(func(v view.View) view.View { return v.OneToOne(m.anchor(v)) })
}

// ZoomBy multiplies the scale about the keyboard cursor or the middle.
func (m *MapView) ZoomBy(factor float64) {
	m.change(func(v view.View) view.View { return v.ZoomAt(m.anchor(v), factor) })
}

// PanBy moves the sheet by device-independent pixels.
func (m *MapView) PanBy(dx, dy float64) {
	m.change(func(v view.View) view.View { return v.PanBy(dx*m.frame.scale, dy*m.frame.scale) })
}

// CenterOn brings a position of the sheet to the middle.
func (m *MapView) CenterOn(p view.PicPt) {
	m.head(func(v view.View) view.View { return v.CenterOn(p) })
}

// ShowRect shows a rectangle of the sheet with some room around it. A single
// point is centred at no more than 2 screen pixels a picture pixel.
func (m *MapView) ShowRect(r view.Rect) {
	m.head(func(v view.View) view.View {
		w := v.FitRect(r, 0.7)
		if most := max(2, v.Scale()); w.Scale() > most {
			w = w.ScaledTo(most, r.Centre(), w.Middle())
		}
		return w
	})
}

// RotateTo turns the sheet to the angle in radians, clockwise from upright,
// about the middle. Grid north is up at the negative of the calibration's
// rotation.
func (m *MapView) RotateTo(angle float64) {
	m.head(func(v view.View) view.View { return v.RotateTo(angle, v.Middle()) })
}

// anchor is where keys zoom: the keyboard cursor if it is on screen, else the
// middle.
func (m *MapView) anchor(v view.View) view.ScreenPt {
	if at, on := m.machine.Cursor(); on {
		return v.ToScreen(at)
	}
	return v.Middle()
}
