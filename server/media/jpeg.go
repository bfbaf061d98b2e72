package media

import (
	"encoding/binary"
	"image"
)

// mostScans bounds the passes of a progressive JPEG: a camera makes about
// ten, and each costs a walk over all pixels, however few bytes it has.
const mostScans = 64

// looked is what the segments of a JPEG say of it.
type looked struct {
	scans int
	turn  turn
}

// lookIntoJPEG walks the segments (ISO/IEC 10918-1, annex B) without
// unpacking anything. What does not read as a JPEG is left to the decoder.
func lookIntoJPEG(b []byte) looked {
	out := looked{turn: upright}
	for i := 2; i+4 <= len(b); {
		if b[i] != 0xff {
			i++ // packed pixels
			continue
		}
		marker := b[i+1]
		switch {
		case marker == 0x00 || marker == 0xff || marker >= 0xd0 && marker <= 0xd9:
			i++ // a stuffed byte, filling, or a marker without a length
			continue
		case marker == 0xda:
			out.scans++
		}
		size := int(binary.BigEndian.Uint16(b[i+2:]))
		end := i + 2 + size
		if size < 2 || end > len(b) {
			i += 2
			continue
		}
		if marker == 0xe1 && out.scans == 0 {
			if t := turnOf(b[i+4 : end]); t != upright {
				out.turn = t
			}
		}
		i = end
	}
	return out
}

// turn is how a camera was held: the value of Exif's Orientation, 1 to 8.
type turn int

const upright turn = 1

// orientation is the tag in the first directory (Exif 2.32, 4.6.4 A).
const orientation = 0x0112

// turnOf reads the orientation out of an APP1 segment: "Exif", two zeros, and
// a TIFF file of which only the first directory is looked at.
func turnOf(app1 []byte) turn {
	const head = "Exif\x00\x00"
	if len(app1) < len(head)+8 || string(app1[:len(head)]) != head {
		return upright
	}
	tiff := app1[len(head):]
	var order binary.ByteOrder = binary.BigEndian
	switch string(tiff[:2]) {
	case "II":
		order = binary.LittleEndian
	case "MM":
	default:
		return upright
	}
	at := int64(order.Uint32(tiff[4:]))
	if at+2 > int64(len(tiff)) {
		return upright
	}
	entries := tiff[at+2:]
	for range order.Uint16(tiff[at:]) {
		if len(entries) < 12 {
			return upright
		}
		if order.Uint16(entries) == orientation {
			if t := turn(order.Uint16(entries[8:])); t >= 1 && t <= 8 {
				return t
			}
			return upright
		}
		entries = entries[12:]
	}
	return upright
}

// apply turns the picture the right way up. The table is that of Exif 2.32,
// 4.6.4 A: which edge of the picture the first row and the first column show.
func (t turn) apply(from *image.RGBA) *image.RGBA {
	if t <= upright || t > 8 {
		return from
	}
	w, h := from.Rect.Dx(), from.Rect.Dy()
	tw, th := w, h
	if t >= 5 {
		tw, th = h, w
	}
	to := image.NewRGBA(image.Rect(0, 0, tw, th))
	for y := range th {
		for x := range tw {
			fx, fy := t.source(x, y, w, h)
			copy(to.Pix[to.PixOffset(x, y):][:4], from.Pix[from.PixOffset(fx, fy):][:4])
		}
	}
	return to
}

// source is the pixel of the stored picture (w by h) that stands at x, y in
// the upright one.
func (t turn) source(x, y, w, h int) (int, int) {
	switch t {
	case 2:
		return w - 1 - x, y
	case 3:
		return w - 1 - x, h - 1 - y
	case 4:
		return x, h - 1 - y
	case 5:
		return y, x
	case 6:
		return y, h - 1 - x
	case 7:
		return w - 1 - y, h - 1 - x
	case 8:
		return w - 1 - y, x
	}
	return x, y
}
