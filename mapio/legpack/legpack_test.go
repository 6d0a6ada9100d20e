package legpack

import (
	"archive/zip"
	"bytes"
	"context"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"hash/crc32"
	"io/fs"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"legwright/app/geodesy"
	"legwright/app/leg"
	"legwright/app/plan"
	"legwright/app/terrain"
	"legwright/mapio/dem"
	"legwright/mapio/openfile"
	"legwright/mapio/planfile"
)

func sumOf(content []byte) string {
	sum := sha256.Sum256(content)
	return hex.EncodeToString(sum[:])
}

func put(t testing.TB, name string, content []byte) string {
	t.Helper()
	if err := os.WriteFile(name, content, 0o600); err != nil {
		t.Fatal(err)
	}
	return name
}

// made is a plan with two pictures of one name, and a leg.
func made(t testing.TB) *plan.Plan {
	t.Helper()
	p := plan.New(plan.Date{}).SetTitle("Round")
	for i := range 2 {
		content := []byte(fmt.Sprintf("picture %d", i))
		p = p.SetSheet(plan.Sheet{
			ID: plan.ID(fmt.Sprintf("sheet-%d", i+1)), Picture: put(t, filepath.Join(t.TempDir(), "map:1.png"), content), Width: 10, Height: 10, SHA256: sumOf(content),
		})
	}
	at := func(e, n float64) plan.Position {
		return plan.Position{Grid: geodesy.Grid{E: e, N: n}, Code: geodesy.EPSG(27700), Origin: plan.Typed, Text: "typed"}
	}
	one, two := plan.Mark{ID: "mark-1", Name: "One", Position: at(220_000, 770_000)}, plan.Mark{ID: "mark-2", Name: "Two", Position: at(221_000, 770_500)}
	return p.AddMark(one).AddMark(two).AddLeg(plan.Leg{ID: "leg-1", From: plan.AtMark(one), To: plan.AtMark(two)})
}

func open(name string) (fs.File, error) { return openfile.Open(name) }

func packed(t testing.TB, p *plan.Plan) (*bytes.Reader, Packed) {
	t.Helper()
	r, err := leg.NewReader(p)
	if err != nil {
		t.Fatal(err)
	}
	var out bytes.Buffer
	said, err := Pack(t.Context(), &out, r, open)
	if err != nil {
		t.Fatal(err)
	}
	return bytes.NewReader(out.Bytes()), said
}

func load(t testing.TB, name string) *plan.Plan {
	t.Helper()
	p, _, err := planfile.NewStore().Load(name)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// What is packed comes back: the same plan by its number, the same pictures, in a folder of its
// own; and the same plan packs to the same bytes.
func TestPackComesBack(t *testing.T) {
	t.Parallel()
	p := made(t)
	pack, said := packed(t, p)
	again, _ := packed(t, p)
	if !bytes.Equal(bytesOf(t, pack), bytesOf(t, again)) || said.Pictures != 2 {
		t.Errorf("packing twice gives different bytes, or not 2 pictures: %s", said)
	}
	if _, demo := packed(t, p.SetTerrain([]plan.Terrain{{Path: plan.EmbeddedPrefix + "a.tif", SHA256: strings.Repeat("0", 64)}})); said.Own != 0 || demo.Own != 1 || !strings.Contains(demo.String(), "1 file comes with the program") {
		t.Errorf("with terrain of the program's own: %s", demo)
	}
	folder := filepath.Join(t.TempDir(), "walk")
	name, err := Unpack(t.Context(), pack, pack.Size(), folder)
	if err != nil {
		t.Fatal(err)
	}
	if name != filepath.Join(folder, "walk.legplan") {
		t.Errorf("the plan is %s", name)
	}
	q := load(t, name)
	for i, s := range q.Sheets {
		got, err := os.ReadFile(s.Picture)
		if err != nil || string(got) != fmt.Sprintf("picture %d", i) || !strings.HasPrefix(s.Picture, folder) {
			t.Errorf("%s: %q, %v", s.Picture, got, err)
		}
	}
	before, _ := planfile.Number(p)
	if after, err := planfile.Number(q); err != nil || before != after {
		t.Errorf("plan number %s, want %s (%v)", after, before, err)
	}
	if _, err := Unpack(t.Context(), pack, pack.Size(), folder); !errors.Is(err, ErrExists) {
		t.Errorf("over a folder: %v, want ErrExists", err)
	}
}

func bytesOf(t testing.TB, r *bytes.Reader) []byte {
	t.Helper()
	out := make([]byte, r.Size())
	if _, err := r.ReadAt(out, 0); err != nil {
		t.Fatal(err)
	}
	return out
}

// A large terrain file is cut to 5 km around the plan: there the heights are the same, far away
// there are none. A changed file packs not at all.
func TestTerrainIsCut(t *testing.T) {
	t.Parallel()
	const n, step = 1500, 20.0
	var b bytes.Buffer
	fmt.Fprintf(&b, "ncols %d\nnrows %d\nxllcenter 205000\nyllcenter 755000\ncellsize %g\n", n, n, step)
	for i := range n * n {
		fmt.Fprintf(&b, "%d.5 ", 200+(i*7+i/n*13)%500)
	}
	name := put(t, filepath.Join(t.TempDir(), "wide.asc"), b.Bytes())
	p := made(t).SetTerrain([]plan.Terrain{{Path: name, SHA256: sumOf(b.Bytes()), Code: geodesy.EPSG(27700)}})
	pack, said := packed(t, p)
	if said.Cut != 1 || pack.Size() > int64(b.Len())/3 {
		t.Errorf("%s, %d bytes", said, pack.Size())
	}
	file, err := Unpack(t.Context(), pack, pack.Size(), filepath.Join(t.TempDir(), "walk"))
	if err != nil {
		t.Fatal(err)
	}
	cut := load(t, file)
	if got := cut.Terrain[0]; got.CutFrom != p.Terrain[0].SHA256 || got.CutFromCode != p.Terrain[0].Code || got.SHA256 == got.CutFrom {
		t.Errorf("the cut is %+v, want it to name %+v", got, p.Terrain[0])
	}
	again, _ := packed(t, cut)
	twice, err := Unpack(t.Context(), again, again.Size(), filepath.Join(t.TempDir(), "walk"))
	if err != nil {
		t.Fatal(err)
	}
	if got, want := load(t, twice).Terrain[0], cut.Terrain[0]; got.CutFrom != want.CutFrom || got.CutFromCode != want.CutFromCode {
		t.Errorf("packed again the cut names %q %q", got.CutFrom, got.CutFromCode)
	}
	before, after := groundOf(t, p.Terrain[0]), groundOf(t, cut.Terrain[0])
	for _, at := range []geodesy.Grid{{E: 220_000, N: 770_000}, {E: 215_003, N: 765_003}, {E: 225_990, N: 775_490}, {E: 220_511, N: 770_333}} {
		a, okA := before.Height(at)
		if b, okB := after.Height(at); !okA || !okB || math.Abs(a-b) > 1e-9 {
			t.Errorf("at %v: %v %v after, %v %v before", at, b, okB, a, okA)
		}
	}
	far := geodesy.Grid{E: 231_000, N: 781_000}
	if _, ok := after.Height(far); ok {
		t.Error("the cut reaches 10 km")
	}
	if _, ok := before.Height(far); !ok {
		t.Error("the terrain before does not reach that far: nothing is compared")
	}
	put(t, name, append(b.Bytes(), '1'))
	r, _ := leg.NewReader(p)
	if _, err := Pack(t.Context(), new(bytes.Buffer), r, open); err == nil || !strings.Contains(err.Error(), "changed") {
		t.Errorf("a changed file: %v", err)
	}
}

// Terrain that was left out takes the ticks of escapes in the packed plan; a plan without escapes
// hears nothing of them.
func TestWordsOfLeftOutTerrain(t *testing.T) {
	t.Parallel()
	for want, p := range map[string]Packed{
		"the plan; 1 terrain file left out, too far from the plan; the packed plan has a different plan number":                                                       {Left: 1},
		"the plan; 2 terrain files left out, too far from the plan; the packed plan has a different plan number, and its escapes are DRAFT until you tick them again": {Left: 2, Escapes: 1},
		"the plan and 1 picture": {Pictures: 1, Escapes: 1},
	} {
		if got := p.String(); got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
}

func groundOf(t *testing.T, f plan.Terrain) terrain.Ground {
	t.Helper()
	in, err := os.Open(f.Path)
	if err != nil {
		t.Fatal(err)
	}
	defer in.Close()
	tile, sum, err := dem.OpenHashed(t.Context(), in, filepath.Base(f.Path), dem.Want{Grid: f.Code, Feet: f.Feet})
	if err != nil || sum != f.SHA256 {
		t.Fatalf("%v, SHA-256 %s, want %s", err, sum, f.SHA256)
	}
	m, err := terrain.NewModel(tile)
	if err != nil {
		t.Fatal(err)
	}
	system, err := geodesy.Lookup(geodesy.EPSG(27700))
	if err != nil {
		t.Fatal(err)
	}
	return m.On(system)
}

// entry is one of a pack made by hand.
type entry struct {
	name, content string
	mode          fs.FileMode
	declared      uint64 // size once unpacked by its own word alone
}

func archive(t testing.TB, list ...entry) []byte {
	t.Helper()
	out, err := zipped(list...)
	if err != nil {
		t.Fatal(err)
	}
	return out
}

// zipped is an archive of entries. One that declares a size is stored as it is.
func zipped(list ...entry) ([]byte, error) {
	var out bytes.Buffer
	z := zip.NewWriter(&out)
	for _, e := range list {
		h := &zip.FileHeader{Name: e.name, Method: zip.Deflate}
		h.SetMode(e.mode | 0o644)
		entry := z.CreateHeader
		if e.declared > 0 {
			h.Method, h.CRC32, h.CompressedSize64, h.UncompressedSize64 = zip.Store, crc32.ChecksumIEEE([]byte(e.content)), uint64(len(e.content)), e.declared
			entry = z.CreateRaw
		}
		w, err := entry(h)
		if err == nil {
			_, err = w.Write([]byte(e.content))
		}
		if err != nil {
			return nil, err
		}
	}
	err := z.Close()
	return out.Bytes(), err
}

// planText is a plan that names a picture of that content.
func planText(t testing.TB, picture, content string) string {
	t.Helper()
	text, err := planOf(entry{name: picture, content: content})
	if err != nil {
		t.Fatal(err)
	}
	return text
}

// planOf is a plan whose pictures are the entries that have a name.
func planOf(pictures ...entry) (string, error) {
	p := plan.New(plan.Date{})
	for i, e := range pictures {
		if e.name != "" {
			p = p.SetSheet(plan.Sheet{ID: plan.ID(fmt.Sprintf("sheet-%d", i+1)), Picture: e.name, Width: 10, Height: 10, SHA256: sumOf([]byte(e.content))})
		}
	}
	var text strings.Builder
	err := planfile.Encode(&text, p)
	return text.String(), err
}

// Whatever a pack may not hold is refused, and nothing of it is left on the disk.
func TestBadPacksAreRefused(t *testing.T) {
	t.Parallel()
	good := planText(t, "pictures/a.png", "a")
	p, a := entry{name: planName, content: good}, entry{name: "pictures/a.png", content: "a"}
	bomb := entry{name: a.name, declared: freeBytes + 1}
	lie := bytes.Replace(archive(t, p, entry{name: "pictures/a.png", content: strings.Repeat("a", 5000)}), le32(5000), le32(4), -1)
	cases := map[string]struct {
		pack []byte
		want error
	}{
		"nothing":               {nil, ErrNotPack},
		"another file":          {[]byte("PK\x03\x04 and no more"), ErrNotPack},
		"no plan":               {archive(t, a), ErrNotPack},
		"cut off":               {archive(t, p, a)[:200], ErrNotPack},
		"a missing picture":     {archive(t, p), ErrUnsafe},
		"another picture":       {archive(t, p, entry{name: a.name, content: "b"}), ErrUnsafe},
		"a file not named":      {archive(t, p, a, entry{name: "pictures/b.png"}), ErrUnsafe},
		"the same name twice":   {archive(t, p, a, a), ErrUnsafe},
		"twice but for case":    {archive(t, p, a, entry{name: "pictures/A.PNG"}), ErrUnsafe},
		"a link":                {archive(t, p, entry{name: a.name, content: "/etc/hosts", mode: fs.ModeSymlink}), ErrUnsafe},
		"a plan outside":        {archive(t, entry{name: planName, content: planText(t, "../a.png", "a")}), ErrUnsafe},
		"a plan with a root":    {archive(t, entry{name: planName, content: planText(t, "/etc/hosts", "a")}), ErrUnsafe},
		"a bomb":                {archive(t, p, bomb), ErrTooLarge},
		"a lie about its size":  {lie, ErrNotPack},
		"a broken plan":         {archive(t, entry{name: planName, content: "{"}), nil},
		"a device":              {archive(t, p, entry{name: "pictures/con.png"}), ErrUnsafe},
		"a name with a letter":  {archive(t, p, entry{name: "pictures/a\x07.png"}), ErrUnsafe},
		"a hidden name":         {archive(t, p, entry{name: "pictures/.bashrc"}), ErrUnsafe},
		"a folder":              {archive(t, p, entry{name: "pictures/x/", mode: fs.ModeDir}), ErrUnsafe},
		"a stream of Windows":   {archive(t, p, entry{name: "pictures/a.png:x"}), ErrUnsafe},
		"a name that ends in .": {archive(t, p, entry{name: "pictures/a.png."}), ErrUnsafe},
	}
	for _, name := range []string{"../a.png", "/a.png", "pictures/../../a.png", `pictures\..\a.png`, "C:/a.png", "pictures/x/a.png", "a.png"} {
		cases["the name "+name] = struct {
			pack []byte
			want error
		}{archive(t, p, entry{name: name}), ErrUnsafe}
	}
	for what, c := range cases {
		dir := t.TempDir()
		_, err := Unpack(t.Context(), bytes.NewReader(c.pack), int64(len(c.pack)), filepath.Join(dir, "walk"))
		if err == nil || c.want != nil && !errors.Is(err, c.want) {
			t.Errorf("%s: %v, want %v", what, err, c.want)
		}
		if left, _ := os.ReadDir(dir); len(left) > 0 {
			t.Errorf("%s: %v is left", what, left)
		}
	}
	dir := t.TempDir()
	ok := archive(t, p, a)
	if _, err := Unpack(t.Context(), bytes.NewReader(ok), int64(len(ok)), filepath.Join(dir, "walk")); err != nil {
		t.Errorf("the sound one that the others were made from: %v", err)
	}
	ctx, stop := context.WithCancel(t.Context())
	stop()
	if _, err := Unpack(ctx, bytes.NewReader(ok), int64(len(ok)), filepath.Join(dir, "other")); !errors.Is(err, context.Canceled) {
		t.Errorf("cancelled: %v", err)
	}
	if left, _ := os.ReadDir(dir); len(left) != 1 {
		t.Errorf("after a cancelled one %v is left, want the first alone", left)
	}
}

func le32(n int) []byte { return []byte{byte(n), byte(n >> 8), byte(n >> 16), byte(n >> 24)} }

// Nothing that is unpacked leaves its folder, and of what is refused nothing is left. The pack is
// an archive of a plan and up to two entries, of which the plan speaks unless its text is given, with
// one byte of it changed.
func FuzzUnpack(f *testing.F) {
	const a, none = "pictures/a.png", ""
	add := func(text string, one, two entry, at uint, by byte) {
		f.Add(text, one.name, one.content, uint32(one.mode), one.declared, two.name, two.content, uint32(two.mode), two.declared, at, by)
	}
	for _, two := range []entry{
		{},
		{name: "terrain/b.asc", content: "b"},
		{name: "pictures/A.PNG", content: "b"},
		{name: "../b.png", content: "b"},
		{name: "../../b.png", content: "b"},
		{name: `pictures\..\b.png`},
		{name: "pictures/x/", mode: fs.ModeDir},
		{name: "pictures/con.png"},
		{name: planName, content: "{}"},
		{name: "pictures/b.png", content: "/etc", mode: fs.ModeSymlink},
		{name: "pictures/b.png", content: "b", declared: 1},
		{name: "pictures/b.png", content: "bb", declared: 1},
		{name: "pictures/b.png", declared: freeBytes + 1},
	} {
		add(none, entry{name: a, content: "a"}, two, 0, 0)
	}
	add(none, entry{name: a, content: strings.Repeat("a", 5000)}, entry{}, 40, 1)
	add(planText(f, none, none), entry{}, entry{}, 0, 0)
	add(planText(f, "../a.png", "a"), entry{name: a, content: "a"}, entry{}, 0, 0)
	f.Fuzz(func(t *testing.T, text, name, content string, mode uint32, size uint64, name2, content2 string, mode2 uint32, size2 uint64, at uint, by byte) {
		list := slices.DeleteFunc([]entry{{name, content, fs.FileMode(mode), size}, {name2, content2, fs.FileMode(mode2), size2}}, func(e entry) bool { return e.name == "" })
		if text == "" {
			var err error
			if text, err = planOf(list...); err != nil {
				t.Skip(err)
			}
		}
		pack, err := zipped(append(list, entry{name: planName, content: text})...)
		if err != nil {
			t.Skip(err)
		}
		pack[at%uint(len(pack))] ^= by
		unpacks(t, pack)
	})
}

// unpacks unpacks a pack two folders down, and fails where it leaves anything but its own folder of
// files and folders.
func unpacks(t *testing.T, pack []byte) {
	t.Helper()
	top := t.TempDir()
	dir := filepath.Join(top, "one", "two")
	if err := os.MkdirAll(dir, 0o700); err != nil {
		t.Fatal(err)
	}
	name, err := Unpack(t.Context(), bytes.NewReader(pack), int64(len(pack)), filepath.Join(dir, "walk"))
	for _, x := range []struct{ in, only string }{{top, "one"}, {filepath.Dir(dir), "two"}, {dir, "walk"}} {
		left, _ := os.ReadDir(x.in)
		if x.only == "walk" && err != nil && len(left) == 0 {
			continue
		}
		if len(left) != 1 || left[0].Name() != x.only || x.only == "walk" && err != nil {
			t.Fatalf("%v left in %s, %v", left, x.in, err)
		}
	}
	if err != nil {
		return
	}
	load(t, name)
	_ = filepath.WalkDir(dir, func(path string, d fs.DirEntry, err error) error {
		if err != nil || !d.IsDir() && !d.Type().IsRegular() {
			t.Errorf("%s is %v, %v", path, d, err)
		}
		return nil
	})
}
