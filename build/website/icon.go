package website

import (
	"bytes"
	"fmt"
	"image"
	"image/color"
	"image/png"
	"math"
	"sync"
)

// The icon is a gauge whose needle points into the marked window, on a plain
// ground. It is drawn here once and comes out as SVG and as PNG, so that the two
// never differ. Lengths are in parts of the icon's side.
const (
	gaugeRadius = 0.30
	gaugeWidth  = 0.07
	needleWidth = 0.06
	needleReach = 0.25
	hubRadius   = 0.06
	cornerRound = 0.18

	centreX, centreY = 0.5, 0.56

	// Angles run clockwise from three o'clock, in degrees, as the screen has them.
	dialFrom, dialTo     = 150.0, 390.0
	windowFrom, windowTo = 285.0, 345.0
	needleAngle          = 315.0
)

var (
	groundColour = color.NRGBA{0x14, 0x20, 0x2a, 0xff}
	dialColour   = color.NRGBA{0x8f, 0xa3, 0xb3, 0xff}
	windowColour = color.NRGBA{0x63, 0xd0, 0x8b, 0xff}
	needleColour = color.NRGBA{0xff, 0xd3, 0x4d, 0xff}
)

// icons are the files that pages and manifest refer to. Drawing them takes a
// second, so that it is done once.
var icons = sync.OnceValue(func() map[string][]byte {
	return map[string][]byte{
		"icon.svg":         iconSVG(),
		"icon-192.png":     iconPNG(192, false),
		"icon-512.png":     iconPNG(512, false),
		"touch-180.png":    iconPNG(180, true),
		"maskable-512.png": iconPNG(512, true),
	}
})

func css(c color.NRGBA) string { return fmt.Sprintf("#%02x%02x%02x", c.R, c.G, c.B) }

func polar(radius, degrees float64) (x, y float64) {
	s, c := math.Sincos(degrees * math.Pi / 180)
	return centreX + radius*c, centreY + radius*s
}

// iconSVG is the icon as a drawing of side 512.
func iconSVG() []byte {
	const side = 512
	arc := func(from, to float64, c color.NRGBA) string {
		x0, y0 := polar(gaugeRadius, from)
		x1, y1 := polar(gaugeRadius, to)
		large := 0
		if to-from > 180 {
			large = 1
		}
		return fmt.Sprintf(`<path d="M%.1f %.1fA%.1f %.1f 0 %d 1 %.1f %.1f" fill="none" stroke="%s" stroke-width="%.1f" stroke-linecap="round"/>`,
			x0*side, y0*side, gaugeRadius*side, gaugeRadius*side, large, x1*side, y1*side, css(c), gaugeWidth*side)
	}
	nx, ny := polar(needleReach, needleAngle)
	var b bytes.Buffer
	fmt.Fprintf(&b, `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 %d %d">`, side, side)
	fmt.Fprintf(&b, `<rect width="%d" height="%d" rx="%.1f" fill="%s"/>`, side, side, cornerRound*side, css(groundColour))
	b.WriteString(arc(dialFrom, dialTo, dialColour))
	b.WriteString(arc(windowFrom, windowTo, windowColour))
	fmt.Fprintf(&b, `<path d="M%.1f %.1fL%.1f %.1f" stroke="%s" stroke-width="%.1f" stroke-linecap="round"/>`,
		centreX*side, centreY*side, nx*side, ny*side, css(needleColour), needleWidth*side)
	fmt.Fprintf(&b, `<circle cx="%.1f" cy="%.1f" r="%.1f" fill="%s"/>`, centreX*side, centreY*side, hubRadius*side, css(needleColour))
	b.WriteString("</svg>\n")
	return b.Bytes()
}

// iconPNG is the icon as an image of the given side. A maskable one has a square
// ground and keeps the drawing within the middle, because systems cut it to the
// shape they like.
func iconPNG(side int, maskable bool) []byte {
	const samples = 4 // per pixel and direction
	img := image.NewNRGBA(image.Rect(0, 0, side, side))
	for py := range side {
		for px := range side {
			var r, g, b, a float64
			for sy := range samples {
				for sx := range samples {
					x := (float64(px) + (float64(sx)+0.5)/samples) / float64(side)
					y := (float64(py) + (float64(sy)+0.5)/samples) / float64(side)
					c := iconColour(x, y, maskable)
					r += float64(c.R) * float64(c.A)
					g += float64(c.G) * float64(c.A)
					b += float64(c.B) * float64(c.A)
					a += float64(c.A)
				}
			}
			if a > 0 {
				img.SetNRGBA(px, py, color.NRGBA{uint8(r / a), uint8(g / a), uint8(b / a), uint8(a / (samples * samples))})
			}
		}
	}
	var out bytes.Buffer
	encoder := png.Encoder{CompressionLevel: png.BestCompression}
	if err := encoder.Encode(&out, paletted(img)); err != nil {
		panic(err) // a buffer takes everything
	}
	return out.Bytes()
}

// paletted is the same image with its colours in a table, which is a third of the
// size, if they fit into one.
func paletted(img *image.NRGBA) image.Image {
	places := map[color.NRGBA]uint8{}
	var palette color.Palette
	bounds := img.Bounds()
	out := image.NewPaletted(bounds, nil)
	for y := bounds.Min.Y; y < bounds.Max.Y; y++ {
		for x := bounds.Min.X; x < bounds.Max.X; x++ {
			c := img.NRGBAAt(x, y)
			place, known := places[c]
			if !known {
				if len(palette) == 256 {
					return img
				}
				place = uint8(len(palette))
				places[c], palette = place, append(palette, c)
			}
			out.SetColorIndex(x, y, place)
		}
	}
	out.Palette = palette
	return out
}

// iconColour is the colour at a point of the icon.
func iconColour(x, y float64, maskable bool) color.NRGBA {
	if maskable {
		x, y = 0.5+(x-0.5)/0.8, 0.5+(y-0.5)/0.8
	} else if outsideCorners(x, y) {
		return color.NRGBA{}
	}
	nx, ny := polar(needleReach, needleAngle)
	switch {
	case math.Hypot(x-centreX, y-centreY) <= hubRadius,
		toSegment(x, y, centreX, centreY, nx, ny) <= needleWidth/2:
		return needleColour
	case toArc(x, y, windowFrom, windowTo) <= gaugeWidth/2:
		return windowColour
	case toArc(x, y, dialFrom, dialTo) <= gaugeWidth/2:
		return dialColour
	}
	return groundColour
}

func outsideCorners(x, y float64) bool {
	dx := math.Max(0, math.Abs(x-0.5)-(0.5-cornerRound))
	dy := math.Max(0, math.Abs(y-0.5)-(0.5-cornerRound))
	return math.Hypot(dx, dy) > cornerRound
}

func toSegment(x, y, x0, y0, x1, y1 float64) float64 {
	dx, dy := x1-x0, y1-y0
	t := ((x-x0)*dx + (y-y0)*dy) / (dx*dx + dy*dy)
	t = math.Min(1, math.Max(0, t))
	return math.Hypot(x-x0-t*dx, y-y0-t*dy)
}

// toArc is the distance from a point to the gauge's ring between two angles,
// with round ends.
func toArc(x, y, from, to float64) float64 {
	angle := math.Atan2(y-centreY, x-centreX) * 180 / math.Pi
	for angle < from {
		angle += 360
	}
	if angle <= to {
		return math.Abs(math.Hypot(x-centreX, y-centreY) - gaugeRadius)
	}
	x0, y0 := polar(gaugeRadius, from)
	x1, y1 := polar(gaugeRadius, to)
	return math.Min(math.Hypot(x-x0, y-y0), math.Hypot(x-x1, y-y1))
}
