package media

import (
	"bytes"
	"math/bits"
)

// The elements of a WebM file that are looked at (RFC 9559, 5 and 27.1).
const (
	ebmlHead   = 0x1a45dfa3
	ebmlVoid   = 0xec
	segment    = 0x18538067
	cluster    = 0x1f43b675
	tracks     = 0x1654ae6b
	trackTags  = 0x1254c367
	attachment = 0x1941a469
)

// element is one element: where it begins, where its content begins and ends.
type element struct {
	id              uint32
	from, body, end int
}

// nextElement reads the head of the element at an offset (RFC 8794, 4 to 6).
// One whose length is not known, as a recorder writes that goes on, ends with
// the file.
func nextElement(b []byte, at int) (element, bool) {
	e := element{from: at}
	n := bits.LeadingZeros8(byteAt(b, at)) + 1
	if n > 4 || at+n > len(b) {
		return e, false
	}
	for _, c := range b[at : at+n] {
		e.id = e.id<<8 | uint32(c)
	}
	at += n
	n = bits.LeadingZeros8(byteAt(b, at)) + 1
	if n > 8 || at+n > len(b) {
		return e, false
	}
	size := uint64(b[at]) & (1<<(8-n) - 1)
	unknown := size == 1<<(8-n)-1
	for _, c := range b[at+1 : at+n] {
		size = size<<8 | uint64(c)
		unknown = unknown && c == 0xff
	}
	e.body = at + n
	e.end = len(b)
	if !unknown {
		if size > uint64(len(b)-e.body) {
			return e, false
		}
		e.end = e.body + int(size)
	}
	return e, true
}

// byteAt is 0 past the end, which no head begins with.
func byteAt(b []byte, at int) byte {
	if at >= len(b) {
		return 0
	}
	return b[at]
}

// cleanWebM says whether a file is WebM with Opus and no picture, and turns
// its tags and attachments into Void elements of the same length.
func cleanWebM(b []byte) bool {
	head, ok := nextElement(b, 0)
	if !ok || head.id != ebmlHead || head.end == len(b) || !bytes.Contains(b[head.body:head.end], []byte("webm")) {
		return false
	}
	sound := false
	for at := head.end; at < len(b); {
		e, ok := nextElement(b, at)
		if !ok {
			return false
		}
		at = e.end
		switch e.id {
		case segment, cluster:
			at = e.body // its children stand in the same row
		case tracks:
			inside := b[e.body:e.end]
			sound = bytes.Contains(inside, []byte("A_OPUS")) && !bytes.Contains(inside, []byte("V_"))
		case trackTags, attachment:
			void(b, e)
		}
	}
	return sound
}

// void blanks an element of a four-byte name: one byte of name, eight of
// length, the rest zeros; a shorter one is blanked inside.
func void(b []byte, e element) {
	whole := b[e.from:e.end]
	blank(b[e.body:e.end])
	if len(whole) < 9 {
		return
	}
	blank(whole)
	whole[0], whole[1] = ebmlVoid, 1
	for i, size := 8, len(whole)-9; i > 1; i, size = i-1, size>>8 {
		whole[i] = byte(size)
	}
}
