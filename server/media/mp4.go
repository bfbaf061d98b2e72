package media

import (
	"bytes"
	"encoding/binary"
)

// box is one box of an MP4 file (ISO/IEC 14496-12, 4.2).
type box struct {
	name string
	head []byte // the four letters of its name, in place
	body []byte
}

// nextBox cuts the first box off.
func nextBox(b []byte) (box, []byte, bool) {
	if len(b) < 8 {
		return box{}, nil, false
	}
	size, from := uint64(binary.BigEndian.Uint32(b)), uint64(8)
	switch size {
	case 0: // to the end of the file
		size = uint64(len(b))
	case 1:
		if len(b) < 16 {
			return box{}, nil, false
		}
		size, from = binary.BigEndian.Uint64(b[8:]), 16
	}
	if size < from || size > uint64(len(b)) {
		return box{}, nil, false
	}
	return box{name: string(b[4:8]), head: b[4:8], body: b[from:size]}, b[size:], true
}

// mostDeep bounds how deep boxes are looked into; sound needs five.
const mostDeep = 8

// cleanMP4 says whether a file is MP4 with AAC and no picture, and turns what
// it says beside the sound into free boxes of the same length.
func cleanMP4(b []byte) bool {
	heard := mp4Heard{}
	return heard.walk(b, 0) && heard.aac && !heard.picture
}

type mp4Heard struct{ aac, picture bool }

func (h *mp4Heard) walk(b []byte, deep int) bool {
	for len(b) > 0 {
		x, rest, ok := nextBox(b)
		if !ok || deep > mostDeep {
			return false
		}
		switch x.name {
		case "udta", "meta", "uuid":
			copy(x.head, "free")
			blank(x.body)
		case "moov", "trak", "mdia", "minf", "stbl", "moof", "traf", "mvex":
			if !h.walk(x.body, deep+1) {
				return false
			}
		case "hdlr":
			h.picture = h.picture || len(x.body) >= 12 && string(x.body[8:12]) == "vide"
		case "stsd":
			h.aac = h.aac || bytes.Contains(x.body, []byte("mp4a"))
		}
		b = rest
	}
	return true
}
