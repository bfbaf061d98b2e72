package media

import (
	"bytes"
	"encoding/binary"
	"hash/crc32"
	"image"
	"image/color"
	"image/jpeg"
	"image/png"
	"testing"

	"github.com/stretchr/testify/require"
)

// picture is a photo of quarters: red, green, blue and white, from the upper
// left row by row, so that a turn can be seen.
func picture(w, h int) *image.RGBA {
	m := image.NewRGBA(image.Rect(0, 0, w, h))
	colours := [2][2]color.RGBA{{{200, 0, 0, 255}, {0, 200, 0, 255}}, {{0, 0, 200, 255}, {250, 250, 250, 255}}}
	for y := range h {
		for x := range w {
			m.SetRGBA(x, y, colours[y*2/h][x*2/w])
		}
	}
	return m
}

func jpegOf(t testing.TB, m image.Image) []byte {
	t.Helper()
	var out bytes.Buffer
	require.NoError(t, jpeg.Encode(&out, m, &jpeg.Options{Quality: 95}))
	return out.Bytes()
}

func pngOf(t testing.TB, m image.Image) []byte {
	t.Helper()
	var out bytes.Buffer
	require.NoError(t, png.Encode(&out, m))
	return out.Bytes()
}

// segmentOf is a JPEG segment.
func segmentOf(marker byte, content []byte) []byte {
	return append(binary.BigEndian.AppendUint16([]byte{0xff, marker}, uint16(len(content)+2)), content...)
}

// The place that the fixtures tell: 4 degrees 9' 12.345" north, 9 degrees 14'
// 33.21" east, as a camera writes it and as a person would search for it.
var placeOf = []byte("PLACE 4.153429N 9.242558E")

// exif is an APP1 segment made by hand after Exif 2.32: the orientation in
// the first directory, and a GPS directory with latitude and longitude.
func exif(turn uint16) []byte {
	le := binary.LittleEndian
	b := []byte("Exif\x00\x00II*\x00\x08\x00\x00\x00")
	entry := func(tag, typ uint16, n, value uint32) {
		b = le.AppendUint16(le.AppendUint16(b, tag), typ)
		b = le.AppendUint32(le.AppendUint32(b, n), value)
	}
	b = le.AppendUint16(b, 2)
	entry(0x0112, 3, 1, uint32(turn)) // Orientation
	entry(0x8825, 4, 1, 38)           // GPS directory, 8 + 2 + 2*12 + 4 after the TIFF header
	b = le.AppendUint32(b, 0)
	b = le.AppendUint16(b, 4)
	entry(1, 2, 2, 'N') // GPSLatitudeRef
	entry(2, 5, 3, 92)  // GPSLatitude, 38 + 2 + 4*12 + 4
	entry(3, 2, 2, 'E')
	entry(4, 5, 3, 116)
	b = le.AppendUint32(b, 0)
	for _, v := range []uint32{4, 1, 9, 1, 12345, 1000, 9, 1, 14, 1, 33210, 1000} {
		b = le.AppendUint32(b, v)
	}
	return segmentOf(0xe1, b)
}

// located is a JPEG that says where it was taken in Exif, XMP and a comment.
func located(t testing.TB, m image.Image, turn uint16) []byte {
	t.Helper()
	plain := jpegOf(t, m)
	xmp := append([]byte("http://ns.adobe.com/xap/1.0/\x00<x:xmpmeta exif:GPSLatitude='4,9.20N'/>"), placeOf...)
	return bytes.Join([][]byte{plain[:2], exif(turn), segmentOf(0xe1, xmp), segmentOf(0xfe, placeOf), plain[2:], placeOf}, nil)
}

// chunkOf is a PNG chunk.
func chunkOf(name string, content []byte) []byte {
	b := binary.BigEndian.AppendUint32(nil, uint32(len(content)))
	b = append(append(b, name...), content...)
	return binary.BigEndian.AppendUint32(b, crc32.ChecksumIEEE(b[4:]))
}

// bomb is a PNG of a few bytes that claims to be so large.
func bomb(w, h uint32) []byte {
	head := binary.BigEndian.AppendUint32(binary.BigEndian.AppendUint32(nil, w), h)
	return append([]byte("\x89PNG\r\n\x1a\n"), chunkOf("IHDR", append(head, 8, 2, 0, 0, 0))...)
}

// oggPage is a page of an Ogg stream with one packet.
func oggPage(kind byte, n uint32, packet []byte) []byte {
	b := append([]byte("OggS\x00"), kind)
	b = append(b, make([]byte, 8)...)
	b = binary.LittleEndian.AppendUint32(b, 77) // the stream's number
	b = binary.LittleEndian.AppendUint32(b, n)
	b = append(b, 0, 0, 0, 0, byte(len(packet)/255+1))
	b = append(b, bytes.Repeat([]byte{255}, len(packet)/255)...)
	b = append(append(b, byte(len(packet)%255)), packet...)
	binary.LittleEndian.PutUint32(b[22:], oggCRC(b))
	return b
}

// ogg is a voice note as RFC 7845 has it, with a comment that tells the place.
func ogg() []byte {
	le := binary.LittleEndian
	tags := append(le.AppendUint32([]byte("OpusTags"), 4), "test"...)
	comment := append([]byte("LOCATION="), placeOf...)
	tags = append(le.AppendUint32(le.AppendUint32(tags, 1), uint32(len(comment))), comment...)
	head := append([]byte("OpusHead\x01\x01"), make([]byte, 9)...)
	return bytes.Join([][]byte{oggPage(2, 0, head), oggPage(0, 1, tags), oggPage(4, 2, bytes.Repeat([]byte{0xfc, 1}, 300))}, nil)
}

// ebml is an element with a length of one byte, or of unknown length.
func ebml(id []byte, content []byte) []byte {
	size := binary.BigEndian.AppendUint16(nil, 0x4000|uint16(len(content)))
	return bytes.Join([][]byte{id, size, content}, nil)
}

// webm is a voice note as a recorder writes it: a segment and a cluster
// without a length, and tags that tell the place.
func webm(codec string) []byte {
	return bytes.Join([][]byte{
		ebml([]byte{0x1a, 0x45, 0xdf, 0xa3}, ebml([]byte{0x42, 0x82}, []byte("webm"))),
		{0x18, 0x53, 0x80, 0x67, 0x01, 0xff, 0xff, 0xff, 0xff, 0xff, 0xff, 0xff},
		ebml([]byte{0x16, 0x54, 0xae, 0x6b}, ebml([]byte{0xae}, ebml([]byte{0x86}, []byte(codec)))),
		ebml([]byte{0x12, 0x54, 0xc3, 0x67}, placeOf),
		{0x1f, 0x43, 0xb6, 0x75, 0xff},
		ebml([]byte{0xa3}, bytes.Repeat([]byte{7}, 200)),
	}, nil)
}

func boxOf(name string, content ...[]byte) []byte {
	body := bytes.Join(content, nil)
	return append(append(binary.BigEndian.AppendUint32(nil, uint32(len(body)+8)), name...), body...)
}

// mp4 is a voice note of AAC with the place in its user data.
func mp4(handler, codec string) []byte {
	return bytes.Join([][]byte{
		boxOf("ftyp", []byte("M4A \x00\x00\x00\x00")),
		boxOf("moov",
			boxOf("trak", boxOf("mdia",
				boxOf("hdlr", make([]byte, 8), []byte(handler), make([]byte, 12)),
				boxOf("minf", boxOf("stbl", boxOf("stsd", make([]byte, 8), boxOf(codec, make([]byte, 28)))))),
			),
			boxOf("udta", boxOf("\xa9xyz", placeOf))),
		boxOf("mdat", bytes.Repeat([]byte{9}, 100)),
	}, nil)
}
