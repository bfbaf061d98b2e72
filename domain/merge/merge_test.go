package merge

import (
	"encoding/json"
	"fmt"
	"math/rand/v2"
	"os"
	"slices"
	"testing"

	"tendfold/domain/calendar"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// Two rules, by what they are for.
var rules = map[string]func(w, o Word) bool{"item": Word.Beats, "milestone": Word.Outdates}

// fold is what stands after entries came in this order, as the server and the
// phone do it: one after the other, each against what stands.
func fold(beats func(w, o Word) bool, words []Word) string {
	var stands *Word
	for _, w := range words {
		if stands == nil || beats(w, *stands) {
			stands = &w
		}
	}
	return stands.ID
}

// sharedCase is one of testdata/cases.json, which web/src/roles/phone/merge.test.ts
// reads too.
type sharedCase struct {
	Name  string
	Rule  string
	Words []struct {
		ID       string
		On       calendar.Date
		HLC      string
		DeviceMs int64 `json:"device_ms"`
	}
	Stands string
}

func TestSharedCases(t *testing.T) {
	raw, err := os.ReadFile("testdata/cases.json")
	require.NoError(t, err)
	var cases []sharedCase
	require.NoError(t, json.Unmarshal(raw, &cases))
	require.NotEmpty(t, cases)
	for _, c := range cases {
		t.Run(c.Name, func(t *testing.T) {
			words := make([]Word, len(c.Words))
			for i, w := range c.Words {
				words[i] = Word{ID: w.ID, On: w.On, Made: Made(w.HLC, w.ID, w.DeviceMs)}
			}
			for _, order := range permutations(words) {
				require.Equal(t, c.Stands, fold(rules[c.Rule], order), "%v", order)
			}
		})
	}
}

func permutations(words []Word) [][]Word {
	if len(words) < 2 {
		return [][]Word{words}
	}
	var out [][]Word
	for i, first := range words {
		rest := slices.Concat(words[:i], words[i+1:])
		for _, p := range permutations(rest) {
			out = append(out, append([]Word{first}, p...))
		}
	}
	return out
}

// Two people on one farm, two phones of one of them, clocks off by days
// either way or standing still, entries of the time before stamps among them:
// a hundred thousand such farms, each merged as it was made, and again in a
// drawn order with repeats, in two pieces that are merged apart and then
// together.
func TestOrderSplitAndRepetitionDoNotMatter(t *testing.T) {
	luck := rand.New(rand.NewPCG(2026, 3))
	for n := range 100_000 {
		words := farmOf(luck)
		for name, beats := range rules {
			want := fold(beats, words)
			mixed := slices.Clone(words)
			luck.Shuffle(len(mixed), func(i, j int) { mixed[i], mixed[j] = mixed[j], mixed[i] })
			mixed = append(mixed, mixed[luck.IntN(len(mixed))])
			require.Equal(t, want, fold(beats, mixed), "farm %d, %s: %v", n, name, mixed)

			cut := 1 + luck.IntN(len(mixed)-1)
			first, second := fold(beats, mixed[:cut]), fold(beats, mixed[cut:])
			apart := slices.DeleteFunc(slices.Clone(words), func(w Word) bool { return w.ID != first && w.ID != second })
			require.Equal(t, want, fold(beats, apart), "farm %d, %s, in two pieces", n, name)
		}
	}
}

// farmOf are two to six entries about one thing, made on three phones.
func farmOf(luck *rand.Rand) []Word {
	phones := make([]phone, 3)
	for i := range phones {
		phones[i] = phone{node: fmt.Sprintf("%08x", i), off: int64(luck.IntN(9)-4) * 86_400_000 / 2}
	}
	now := int64(1_773_000_000_000)
	words := make([]Word, 2+luck.IntN(5))
	for i := range words {
		now += int64(luck.IntN(3)) * 1000
		p := &phones[luck.IntN(len(phones))]
		w := Word{ID: fmt.Sprintf("%012x", luck.Uint64N(1<<40)), On: calendar.Date(20_500 + luck.IntN(3))}
		if luck.IntN(4) == 0 {
			id := fmt.Sprintf("%012x", now+p.off)
			w.ID = id[:8] + "-" + id[8:] + "-7" + w.ID[:3] + "-8000-" + w.ID
			w.Made = Made("", w.ID, 0)
		} else {
			w.Made = p.stamp(now)
		}
		words[i] = w
	}
	return words
}

type phone struct {
	node  string
	off   int64
	ms    int64
	count int
}

func (p *phone) stamp(now int64) string {
	if ms := now + p.off; ms > p.ms {
		p.ms, p.count = ms, 0
	} else {
		p.count++
	}
	return fmt.Sprintf("%012x-%04x-%s", p.ms, p.count, p.node)
}

func TestWhatAPhoneSaysLaterStands(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := phone{node: "0000000a"}
		var words []Word
		for i := range rapid.IntRange(2, 8).Draw(t, "entries") {
			now := rapid.Int64Range(0, 1<<42).Draw(t, "the phone's clock, set at will")
			words = append(words, Word{ID: fmt.Sprint(9 - i), On: 20_500, Made: p.stamp(now)})
		}
		last := words[len(words)-1].ID
		for _, beats := range rules {
			require.Equal(t, last, fold(beats, rapid.Permutation(words).Draw(t, "order")))
		}
	})
}

func TestMade(t *testing.T) {
	for _, c := range []struct{ stamp, id, want string }{
		{"019cdf449c6a-0003-0a0b0c0d", "x", "019cdf449c6a-0003-0a0b0c0d"},
		// RFC 9562, appendix A.6: 2022-02-22 19:22:22 UTC = 0x017F22E279B0 ms.
		{"", "017F22E2-79B0-7CC3-98C4-DC0C0C07398F", "017f22e279b0-0000-017F22E2-79B0-7CC3-98C4-DC0C0C07398F"},
		{"", "919108f7-52d1-4320-9bac-f847db4148a8", "00000000000f-0000-919108f7-52d1-4320-9bac-f847db4148a8"}, // RFC 9562, A.3: version 4 tells no time
		{"", "e-1", "00000000000f-0000-e-1"},
		{"", "017F22E2-79BX-7CC3-98C4-DC0C0C07398F", "00000000000f-0000-017F22E2-79BX-7CC3-98C4-DC0C0C07398F"},
	} {
		require.Equal(t, c.want, Made(c.stamp, c.id, 15), c.id)
	}
	require.Equal(t, "000000000000-0000-e-1", Made("", "e-1", -62_135_596_800_000), "no clock at all")
}

func TestStampMs(t *testing.T) {
	ms, ok := StampMs("017f22e279b0-0000-0a0b0c0d")
	require.True(t, ok)
	require.Equal(t, int64(1645557742000), ms) // RFC 9562, A.6
	for _, bad := range []string{
		"", "x", "017f22e279b0", "017f22e279b0-0000", "017f22e279b0-0000-0a0b0c0", "017F22E279B0-0000-0a0b0c0d",
		"017f22e279b0-00g0-0a0b0c0d", "017f22e279b0-0000-0a0b0c0d-", "+17f22e279b0-0000-0a0b0c0d",
	} {
		_, ok := StampMs(bad)
		require.False(t, ok, bad)
	}
}

func TestAfter(t *testing.T) {
	require.Equal(t, "00000000000a-0000-00000000", After("", 10))
	require.Equal(t, "00000000000a-0000-00000000", After("000000000009-0007-0a0b0c0d", 10))
	require.Equal(t, "00000000000a-0008-00000000", After("00000000000a-0007-0a0b0c0d", 10))
	require.Equal(t, "00000000000c-0000-00000000", After("00000000000b-ffff-0a0b0c0d", 10))
	require.Equal(t, "00000000000a-0000-00000000", After("no stamp", 10))
}

func FuzzStamp(f *testing.F) {
	f.Add("017f22e279b0-0000-0a0b0c0d", int64(0))
	f.Fuzz(func(t *testing.T, stamp string, now int64) {
		now &= 1<<47 - 1
		next := After(stamp, now)
		ms, ok := StampMs(next)
		require.True(t, ok, next)
		require.GreaterOrEqual(t, ms, now)
		if was, ok := StampMs(stamp); ok && was < 1<<48-1 {
			require.Greater(t, next, stamp[:17])
		}
	})
}
