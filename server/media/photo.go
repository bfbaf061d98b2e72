package media

import (
	"bytes"
	"fmt"
	"image"
	"image/color"
	"image/jpeg"
	"image/png"

	"golang.org/x/image/draw"
	"golang.org/x/image/webp"
)

// Bounds of a photo. Twelve megapixels is what most phones make; a picture
// that claims to be larger than the cap would take gigabytes to unpack.
const (
	mostPixels = 20_000_000
	mostSide   = 12_000
	keptSide   = 1600 // longest side of what is kept, in pixels
	thumbSide  = 240
	keptQuality,
	thumbQuality = 75, 70
)

// photo is a photo as it is kept: JPEG, the right way up, nothing but pixels.
type photo struct {
	whole, thumb  []byte
	width, height int
}

type codec struct {
	config func(b []byte) (image.Config, error)
	decode func(b []byte) (image.Image, error)
}

var codecs = map[string]codec{
	"image/jpeg": {
		func(b []byte) (image.Config, error) { return jpeg.DecodeConfig(bytes.NewReader(b)) },
		func(b []byte) (image.Image, error) { return jpeg.Decode(bytes.NewReader(b)) },
	},
	"image/png": {
		func(b []byte) (image.Config, error) { return png.DecodeConfig(bytes.NewReader(b)) },
		func(b []byte) (image.Image, error) { return png.Decode(bytes.NewReader(b)) },
	},
	"image/webp": {
		func(b []byte) (image.Config, error) { return webp.DecodeConfig(bytes.NewReader(b)) },
		func(b []byte) (image.Image, error) { return webp.Decode(bytes.NewReader(b)) },
	},
}

// cleanPhoto unpacks a photo and packs its pixels anew: whatever else was in
// the file (Exif, XMP, the place, a hidden second file) cannot come along.
func cleanPhoto(raw []byte) (photo, error) {
	typ := typeOf(raw)
	c, ok := codecs[typ]
	if !ok {
		return photo{}, refusal("media-type", "This is no photo that we can read. Send JPEG, PNG or WebP.")
	}
	turn := upright
	if typ == "image/jpeg" {
		look := lookIntoJPEG(raw)
		if look.scans > mostScans {
			return photo{}, unreadable()
		}
		turn = look.turn
	}
	size, err := c.config(raw)
	if err != nil {
		return photo{}, unreadable()
	}
	if size.Width < 1 || size.Height < 1 || size.Width > mostSide || size.Height > mostSide || size.Width*size.Height > mostPixels {
		return photo{}, refusal("media-pixels", fmt.Sprintf("This photo has more pixels than we take: at most %d megapixels.", mostPixels/1_000_000))
	}
	full, err := c.decode(raw)
	if err != nil {
		return photo{}, unreadable()
	}
	return pack(full, turn)
}

func unreadable() error {
	return refusal("media-unreadable", "This file is damaged: it cannot be opened. Take the photo or the voice note once more.")
}

func pack(full image.Image, turn turn) (photo, error) {
	whole := turn.apply(scaled(full, keptSide))
	p := photo{width: whole.Rect.Dx(), height: whole.Rect.Dy()}
	var err error
	if p.whole, err = asJPEG(whole, keptQuality); err != nil {
		return photo{}, err
	}
	p.thumb, err = asJPEG(scaled(whole, thumbSide), thumbQuality)
	return p, err
}

// scaled is the picture on white, no side longer than most; it never grows.
func scaled(from image.Image, most int) *image.RGBA {
	w, h := from.Bounds().Dx(), from.Bounds().Dy()
	if long := max(w, h); long > most {
		w, h = max(1, w*most/long), max(1, h*most/long)
	}
	to := image.NewRGBA(image.Rect(0, 0, w, h))
	draw.Draw(to, to.Rect, image.NewUniform(color.White), image.Point{}, draw.Src)
	if w == from.Bounds().Dx() && h == from.Bounds().Dy() {
		draw.Draw(to, to.Rect, from, from.Bounds().Min, draw.Over)
		return to
	}
	draw.BiLinear.Scale(to, to.Rect, from, from.Bounds(), draw.Over, nil)
	return to
}

func asJPEG(m image.Image, quality int) ([]byte, error) {
	var out bytes.Buffer
	err := jpeg.Encode(&out, m, &jpeg.Options{Quality: quality})
	return out.Bytes(), err
}
