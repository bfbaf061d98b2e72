package media

import (
	"bytes"
	"encoding/binary"
)

// page is one page of an Ogg stream (RFC 3533, 6).
type page struct {
	whole   []byte // with its header
	content []byte
	packets int // that end in it
}

const pageHead = 27

// nextPage cuts the first page off.
func nextPage(b []byte) (page, []byte, bool) {
	if len(b) < pageHead || string(b[:4]) != "OggS" || b[4] != 0 {
		return page{}, nil, false
	}
	segments := int(b[26])
	if len(b) < pageHead+segments {
		return page{}, nil, false
	}
	size, ends := 0, 0
	for _, lace := range b[pageHead : pageHead+segments] {
		size += int(lace)
		if lace < 255 {
			ends++
		}
	}
	head := pageHead + segments
	if len(b) < head+size {
		return page{}, nil, false
	}
	return page{whole: b[:head+size], content: b[head : head+size], packets: ends}, b[head+size:], true
}

// cleanOgg says whether a file is Ogg Opus, and empties its comments (RFC
// 7845, 5.2: after the last comment, zeros are padding that players pass
// over). They must stand in one page, as in everything that browsers record.
func cleanOgg(b []byte) bool {
	first, rest, ok := nextPage(b)
	if !ok || first.packets != 1 || !bytes.HasPrefix(first.content, []byte("OpusHead")) {
		return false
	}
	tags, rest, ok := nextPage(rest)
	if !ok || tags.packets != 1 || len(tags.content) < 16 || string(tags.content[:8]) != "OpusTags" {
		return false
	}
	blank(tags.content[8:]) // no vendor, no comments
	tags.sum()
	for len(rest) > 0 {
		if _, rest, ok = nextPage(rest); !ok {
			return false
		}
	}
	return true
}

// sum writes the page's checksum.
func (p page) sum() {
	blank(p.whole[22:26])
	binary.LittleEndian.PutUint32(p.whole[22:], oggCRC(p.whole))
}

// oggCRC is the checksum of RFC 3533, 6, field 7: polynomial 0x04c11db7, not
// reflected, from 0, without a final change.
func oggCRC(b []byte) uint32 {
	var crc uint32
	for _, c := range b {
		crc ^= uint32(c) << 24
		for range 8 {
			if crc&0x8000_0000 != 0 {
				crc = crc<<1 ^ 0x04c1_1db7
			} else {
				crc <<= 1
			}
		}
	}
	return crc
}
