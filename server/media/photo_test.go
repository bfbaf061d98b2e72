package media

import (
	"bytes"
	"image"
	"image/color"
	"image/jpeg"
	"os"
	"testing"

	"tendfold/domain"

	"github.com/stretchr/testify/require"
)

// markersOf are the segments of a JPEG before its pixels.
func markersOf(t testing.TB, b []byte) []byte {
	t.Helper()
	var out []byte
	for i := 2; b[i+1] != 0xda; {
		require.EqualValues(t, 0xff, b[i])
		out = append(out, b[i+1])
		i += 2 + int(b[i+2])<<8 + int(b[i+3])
	}
	return out
}

func TestAPhotoLosesItsPlace(t *testing.T) {
	raw := located(t, picture(64, 48), 1)
	for _, sign := range []string{"Exif", "GPSLatitude", string(placeOf)} {
		require.Contains(t, string(raw), sign, "the fixture tells its place")
	}
	p, err := cleanPhoto(raw)
	require.NoError(t, err)
	for name, b := range map[string][]byte{"whole": p.whole, "thumb": p.thumb} {
		for _, m := range markersOf(t, b) {
			// DQT, SOF0, DHT: tables and the size, nothing that tells a story.
			require.Contains(t, []byte{0xdb, 0xc0, 0xc4}, m, "%s has segment %x", name, m)
		}
		for _, sign := range []string{"Exif", "GPS", "xap", string(placeOf), "\x39\x30\x00\x00"} { // 12345 is in the latitude
			require.NotContains(t, string(b), sign, name)
		}
		require.Equal(t, b[len(b)-2:], []byte{0xff, 0xd9}, "nothing follows the picture")
	}
}

// corner is the colour at a corner of the decoded picture, by its strongest
// part: r, g, b, or w for white.
func corner(m image.Image, right, low bool) string {
	b := m.Bounds()
	x, y := b.Min.X+b.Dx()/8, b.Min.Y+b.Dy()/8
	if right {
		x = b.Max.X - 1 - b.Dx()/8
	}
	if low {
		y = b.Max.Y - 1 - b.Dy()/8
	}
	c, _ := color.RGBAModel.Convert(m.At(x, y)).(color.RGBA)
	switch {
	case c.R > 150 && c.G > 150:
		return "w"
	case c.R > 150:
		return "r"
	case c.G > 150:
		return "g"
	}
	return "b"
}

// The stored picture has r g above b w. Exif 2.32, 4.6.4 A: what stands in
// the first row and the first column, for each of the eight ways.
func TestAPhotoStandsTheRightWayUp(t *testing.T) {
	for turn, want := range map[uint16]string{
		1: "rgbw", 2: "grwb", 3: "wbgr", 4: "bwrg", 5: "rbgw", 6: "brwg", 7: "wgbr", 8: "gwrb", 9: "rgbw", 0: "rgbw",
	} {
		p, err := cleanPhoto(located(t, picture(64, 32), turn))
		require.NoError(t, err)
		m, err := jpeg.Decode(bytes.NewReader(p.whole))
		require.NoError(t, err)
		got := corner(m, false, false) + corner(m, true, false) + corner(m, false, true) + corner(m, true, true)
		require.Equal(t, want, got, "orientation %d", turn)
		require.Equal(t, turn >= 5 && turn <= 8, p.height > p.width, "orientation %d", turn)
		require.Equal(t, image.Pt(p.width, p.height), m.Bounds().Size())
	}
}

func TestAPhotoIsScaled(t *testing.T) {
	for _, c := range []struct{ w, h, toW, toH, thumbW, thumbH int }{
		{3200, 2400, 1600, 1200, 240, 180},
		{100, 50, 100, 50, 100, 50}, // it never grows
		{4000, 2, 1600, 1, 240, 1},
	} {
		p, err := cleanPhoto(pngOf(t, picture(c.w, c.h)))
		require.NoError(t, err)
		require.Equal(t, []int{c.toW, c.toH}, []int{p.width, p.height})
		thumb, err := jpeg.DecodeConfig(bytes.NewReader(p.thumb))
		require.NoError(t, err)
		require.Equal(t, []int{c.thumbW, c.thumbH}, []int{thumb.Width, thumb.Height})
	}
}

func TestWhatIsNoPhotoIsRefused(t *testing.T) {
	good := jpegOf(t, picture(16, 16))
	scans := bytes.Join([][]byte{good[:2], bytes.Repeat(segmentOf(0xda, []byte{1, 1, 0, 0, 0, 0}), mostScans+1), good[2:]}, nil)
	large := bytes.Clone(good)
	at := bytes.Index(large, []byte{0xff, 0xc0}) // SOF0: length, precision, height, width
	copy(large[at+5:], []byte{0xff, 0xff, 0xff, 0xff})
	for name, c := range map[string]struct {
		raw  []byte
		code string
	}{
		"nothing":                     {nil, "media-type"},
		"words":                       {[]byte("not a photo at all"), "media-type"},
		"a page that calls itself so": {[]byte("<svg onload='alert(1)'/>"), "media-type"},
		"a voice note":                {ogg(), "media-type"},
		"half":                        {good[:len(good)/2], "media-unreadable"},
		"a head alone":                {[]byte("\xff\xd8\xff"), "media-unreadable"},
		"30,000 pixels wide":          {bomb(30_000, 1), "media-pixels"},
		"900 megapixels":              {bomb(30_000, 30_000), "media-pixels"},
		"a little too large":          {bomb(5_000, 4_001), "media-pixels"},
		"4 gigapixels of JPEG":        {large, "media-pixels"},
		"too many passes":             {scans, "media-unreadable"},
	} {
		_, err := cleanPhoto(c.raw)
		require.Equal(t, c.code, domain.CodeOf(err), name)
	}
}

// webp.webp was drawn on a canvas and written by Chromium.
func TestWebPIsTaken(t *testing.T) {
	raw, err := os.ReadFile("testdata/quarters.webp")
	require.NoError(t, err)
	p, err := cleanPhoto(raw)
	require.NoError(t, err)
	m, err := jpeg.Decode(bytes.NewReader(p.whole))
	require.NoError(t, err)
	require.Equal(t, "rgbw", corner(m, false, false)+corner(m, true, false)+corner(m, false, true)+corner(m, true, true))
}

func FuzzPhoto(f *testing.F) {
	f.Add(located(f, picture(16, 16), 6))
	f.Add(pngOf(f, picture(8, 8)))
	f.Add(bomb(40_000, 40_000))
	if raw, err := os.ReadFile("testdata/quarters.webp"); err == nil {
		f.Add(raw)
	}
	f.Fuzz(func(t *testing.T, raw []byte) {
		p, err := cleanPhoto(raw)
		if err != nil {
			require.Equal(t, domain.KindInvalid, domain.KindOf(err))
			return
		}
		require.LessOrEqual(t, max(p.width, p.height), keptSide)
		require.NotContains(t, markersOf(t, p.whole), byte(0xe1))
	})
}

func FuzzTurn(f *testing.F) {
	f.Add(exif(6)[4:])
	f.Fuzz(func(t *testing.T, app1 []byte) {
		got := turnOf(app1)
		require.True(t, got >= 1 && got <= 8)
	})
}

// located.jpg is the fixture of fixture_test.go, for the phone's own reader.
func TestThePhoneReadsTheSameFixture(t *testing.T) {
	kept, err := os.ReadFile("testdata/located.jpg")
	require.NoError(t, err)
	require.True(t, bytes.HasPrefix(kept[2:], exif(1)), "write the file anew: its head is located(t, picture(16, 12), 1)")
}
