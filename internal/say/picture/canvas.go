package picture

import (
	"bytes"
	"cmp"
	"fmt"
	"image"
	"image/color"
	"image/draw"
	"image/png"
	"maps"
	"math"
	"slices"
	"strings"

	"golang.org/x/image/font"
	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/gofont/goregular"
	"golang.org/x/image/font/opentype"
	"golang.org/x/image/math/fixed"
	"golang.org/x/image/vector"
)

// width of every picture in pixels: sharp on a phone, small enough to send.
const width = 800

// Sizes of text in pixels. A phone shows the picture at about half its width.
const (
	big   = 34
	plain = 26
	small = 21
)

var (
	paper = color.RGBA{0xff, 0xff, 0xff, 0xff}
	ink   = color.RGBA{0x20, 0x24, 0x28, 0xff}
	grey  = color.RGBA{0x5f, 0x66, 0x6d, 0xff}
	pale  = color.RGBA{0xe9, 0xec, 0xef, 0xff}
	metal = color.RGBA{0xd3, 0xda, 0xe2, 0xff}
	line  = color.RGBA{0x9a, 0xa2, 0xaa, 0xff}
	good  = color.RGBA{0x00, 0x6b, 0x54, 0xff} // apart from bad for those who see no red or green, too
	bad   = color.RGBA{0xc6, 0x28, 0x1c, 0xff}
)

// point is a place on the canvas in pixels, y down.
type point struct{ x, y float64 }

// canvas is what is drawn on. It is used by one goroutine.
type canvas struct {
	img   *image.RGBA
	faces map[style]font.Face
}

type style struct {
	px   int
	bold bool
}

func newCanvas(height int) (*canvas, error) {
	c := &canvas{img: image.NewRGBA(image.Rect(0, 0, width, height)), faces: map[style]font.Face{}}
	for bold, ttf := range map[bool][]byte{false: goregular.TTF, true: gobold.TTF} {
		f, err := opentype.Parse(ttf)
		if err != nil {
			return nil, fmt.Errorf("the built-in font: %w", err)
		}
		for _, px := range []int{big, plain, small} {
			face, err := opentype.NewFace(f, &opentype.FaceOptions{Size: float64(px), DPI: 72, Hinting: font.HintingFull})
			if err != nil {
				return nil, fmt.Errorf("the built-in font at %d px: %w", px, err)
			}
			c.faces[style{px, bold}] = face
		}
	}
	draw.Draw(c.img, c.img.Bounds(), image.NewUniform(paper), image.Point{}, draw.Src)
	return c, nil
}

// png gives the picture with at most 256 colours, the most used ones: a quarter of
// the size, and no difference that an eye sees.
func (c *canvas) png() ([]byte, error) {
	at := func(i int) color.RGBA { p := c.img.Pix[4*i : 4*i+4]; return color.RGBA{p[0], p[1], p[2], p[3]} }
	pixels := len(c.img.Pix) / 4
	used := map[color.RGBA]int{}
	for i := 0; i < pixels; { // most pixels are like the one before
		col, from := at(i), i
		for i < pixels && at(i) == col {
			i++
		}
		used[col] += i - from
	}
	colours := slices.SortedFunc(maps.Keys(used), func(a, b color.RGBA) int {
		return cmp.Or(used[b]-used[a], int(a.R)-int(b.R), int(a.G)-int(b.G), int(a.B)-int(b.B))
	})
	var palette color.Palette
	index := make(map[color.RGBA]uint8, len(colours))
	for i, col := range colours {
		if i < 256 {
			palette = append(palette, col)
			index[col] = uint8(i)
		} else {
			index[col] = uint8(palette.Index(col))
		}
	}
	img := image.NewPaletted(c.img.Bounds(), palette)
	for i := range img.Pix {
		if i > 0 && at(i) == at(i-1) {
			img.Pix[i] = img.Pix[i-1]
		} else {
			img.Pix[i] = index[at(i)]
		}
	}
	var out bytes.Buffer
	if err := png.Encode(&out, img); err != nil {
		return nil, fmt.Errorf("encode the picture: %w", err)
	}
	return out.Bytes(), nil
}

// fill paints a polygon, smoothly. One that reaches far off the picture, as lines
// drawn through odd readings may, is not painted.
func (c *canvas) fill(col color.RGBA, ps ...point) {
	far := float64(2*width + c.img.Bounds().Dy())
	if slices.ContainsFunc(ps, func(p point) bool { return !(math.Abs(p.x) < far && math.Abs(p.y) < far) }) { // not a number included
		return
	}
	box := image.Rectangle{Min: image.Pt(math.MaxInt, math.MaxInt), Max: image.Pt(math.MinInt, math.MinInt)}
	for _, p := range ps {
		box.Min.X, box.Min.Y = min(box.Min.X, int(math.Floor(p.x))), min(box.Min.Y, int(math.Floor(p.y)))
		box.Max.X, box.Max.Y = max(box.Max.X, int(math.Ceil(p.x))), max(box.Max.Y, int(math.Ceil(p.y)))
	}
	if box.Empty() {
		return
	}
	// Only the polygon's own box is worked through.
	z := vector.NewRasterizer(box.Dx(), box.Dy())
	z.DrawOp = draw.Over
	for i, p := range ps {
		x, y := float32(p.x-float64(box.Min.X)), float32(p.y-float64(box.Min.Y))
		if i == 0 {
			z.MoveTo(x, y)
		} else {
			z.LineTo(x, y)
		}
	}
	z.ClosePath()
	z.Draw(c.img, box, image.NewUniform(col), image.Point{})
}

// stroke draws a straight line of a thickness in pixels.
func (c *canvas) stroke(col color.RGBA, thick float64, a, b point) {
	dx, dy := b.x-a.x, b.y-a.y
	l := math.Hypot(dx, dy)
	if l == 0 {
		return
	}
	nx, ny := -dy/l*thick/2, dx/l*thick/2
	c.fill(col, point{a.x + nx, a.y + ny}, point{b.x + nx, b.y + ny}, point{b.x - nx, b.y - ny}, point{a.x - nx, a.y - ny})
}

// dashes is stroke with gaps.
func (c *canvas) dashes(col color.RGBA, thick float64, a, b point) {
	const dash, gap = 9, 7
	l := math.Hypot(b.x-a.x, b.y-a.y)
	at := func(d float64) point { return point{a.x + (b.x-a.x)*d/l, a.y + (b.y-a.y)*d/l} }
	for d := 0.0; d < l; d += dash + gap {
		c.stroke(col, thick, at(d), at(min(d+dash, l)))
	}
}

// disc fills a circle.
func (c *canvas) disc(col color.RGBA, at point, radius float64) {
	const corners = 72
	ps := make([]point, corners)
	for i := range ps {
		sin, cos := math.Sincos(2 * math.Pi * float64(i) / corners)
		ps[i] = point{at.x + radius*cos, at.y + radius*sin}
	}
	c.fill(col, ps...)
}

// arrow is a line with a head at b.
func (c *canvas) arrow(col color.RGBA, thick float64, a, b point) {
	dx, dy := b.x-a.x, b.y-a.y
	l := math.Hypot(dx, dy)
	if l == 0 {
		return
	}
	dx, dy = dx/l, dy/l
	head := 4 * thick
	neck := point{b.x - dx*head, b.y - dy*head}
	c.stroke(col, thick, a, neck)
	c.fill(col, b, point{neck.x - dy*head*0.6, neck.y + dx*head*0.6}, point{neck.x + dy*head*0.6, neck.y - dx*head*0.6})
}

// Where a text stands to its point.
const (
	left   = 0.0
	centre = 0.5
	right  = 1.0
)

// write puts a text with its middle height at p: to its right, centred, or to its left.
func (c *canvas) write(s string, st style, col color.RGBA, p point, anchor float64) {
	f := c.faces[st]
	m := f.Metrics()
	d := font.Drawer{Dst: c.img, Src: image.NewUniform(col), Face: f}
	d.Dot = fixed.Point26_6{
		X: fixed.I(int(math.Round(p.x - anchor*c.wide(s, st)))),
		Y: fixed.I(int(math.Round(p.y + float64(m.CapHeight)/64/2))),
	}
	d.DrawString(s)
}

// wide is the width of a text in pixels.
func (c *canvas) wide(s string, st style) float64 {
	return float64(font.MeasureString(c.faces[st], s)) / 64
}

// fit shortens a text to a room in pixels.
func (c *canvas) fit(s string, st style, room float64) string {
	if c.wide(s, st) <= room {
		return s
	}
	letters := []rune(s)
	for len(letters) > 0 && c.wide(string(letters)+"…", st) > room {
		letters = letters[:len(letters)-1]
	}
	return strings.TrimSpace(string(letters)) + "…"
}

// title heads a picture.
func (c *canvas) title(s string) {
	st := style{big, true}
	c.write(c.fit(s, st, width-48), st, ink, point{24, 36}, left)
}

// wrap breaks a text into at most three lines that fit.
func (c *canvas) wrap(s string, st style, room float64) []string {
	var lines []string
	for _, word := range strings.Fields(s) {
		if n := len(lines); n > 0 && c.wide(lines[n-1]+" "+word, st) <= room {
			lines[n-1] += " " + word
		} else {
			lines = append(lines, word)
		}
	}
	return lines[:min(3, len(lines))]
}

// shown is a text from outside made fit to draw: letters the font has, at most 40.
func shown(s string) string { return shownTo(40, s) }

// shownTo is shown of at most so many letters.
func shownTo(most int, s string) string {
	var out []rune
	for _, r := range strings.Join(strings.Fields(s), " ") {
		if len(out) == most {
			return string(out) + "…"
		}
		if r < ' ' || r > 0x17f { // the font goes as far as the European alphabets
			r = '?'
		}
		out = append(out, r)
	}
	return string(out)
}
