package ui

import (
	"image"

	"legwright/canvas/pyramid"
	"legwright/mapio/scan"
)

// A glimpse is a picture that can be looked at before the hash of its file is
// known. It may be another one than the plan was made on, so until the hash
// has come nothing of the plan is drawn over it, nothing is read off it and
// nothing is set on it; it can be moved about. The bench is without a picture
// meanwhile: everything that wants one says so.

// preview takes the preview of a decoding.
func (o *opening) preview(v scan.Preview, mark [32]byte) {
	l := loaded{path: o.path, header: v.Header, mark: mark}
	if v.Hashed {
		l.key, l.picture = v.SHA256, pageKey(v.SHA256, l.page())
	}
	l.pyramid = pyramid.NewPending(image.Pt(v.Header.Width, v.Header.Height), o.options(l.picture))
	l.pyramid.Preview(v.Level, v.Image)
	if v.Hashed {
		o.show(l)
		return
	}
	o.mu.Lock()
	late := o.over || o.first != nil
	if !late {
		o.glimpse = &l
		o.arrivals <- arrival{glimpse: &l} // there is room for it
	}
	o.mu.Unlock()
	if late {
		l.pyramid.Close()
	}
}

// hashed makes of the glimpse a picture that can be worked on.
func (o *opening) hashed(sum [32]byte) {
	o.mu.Lock()
	glimpse := o.glimpse
	o.mu.Unlock()
	if glimpse == nil {
		return
	}
	l := *glimpse
	l.key, l.picture = sum, pageKey(sum, l.page())
	l.pyramid.SetKey(l.picture, o.reload(l.picture))
	o.show(l)
}

// showGlimpse shows a picture whose hash is not known yet.
func (b *Bench) showGlimpse(l loaded) {
	p := &b.picture
	p.half = p.half || p.pyramid != nil
	b.dropPicture()
	p.glimpse = l.pyramid
	p.glimpse.SetLook(b.set.pictureLook())
	b.view.ShowPicture(p.glimpse, true)
	b.sheetP.PictureChanged()
	b.refreshAll()
	p.view.settle()
	b.say("Reading " + pictureName(l.path) + "…")
}

// endGlimpse takes a glimpse away that has become no picture to work on, and
// closes it unless it is to be kept.
func (b *Bench) endGlimpse(keep *pyramid.Pyramid) {
	g := b.picture.glimpse
	if g == nil {
		return
	}
	b.picture.glimpse = nil
	b.view.ShowPicture(b.picture.pyramid, false)
	b.sheetP.Refresh()
	b.refreshAll()
	if g != keep {
		go g.Close()
	}
}
