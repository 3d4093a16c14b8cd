package repo

import (
	"strings"
	"testing"
	"unicode/utf8"

	"golang.org/x/text/unicode/norm"
	"pgregory.net/rapid"
)

func TestFold(t *testing.T) {
	tests := []struct {
		why, in, want string
	}{
		{"case", "DARK Rum", "dark rum"},
		{"accent, one character", "Cr\u00E8me", "creme"},
		{"accent, letter and mark", "Cre\u0300me", "creme"},
		{"Turkish capital dotted i", "İncir", "incir"},
		{"Turkish dotless i", "Kızılcık", "kizilcik"},
		{"German sharp s", "Weißbier", "weissbier"},
		{"capital sharp s", "WEIẞBIER", "weissbier"},
		{"Greek final sigma", "ΟΥΖΟΣ", "ουζοσ"},
		{"Greek tonos", "ούζος", "ουζοσ"},
		{"Nordic letters", "Øl på Ærø", "ol pa aero"},
		{"Polish l", "Wiśniówka żołądkowa", "wisniowka zoladkowa"},
		{"ligature", "ﬁzz", "fizz"},
		{"full width", "ＧＩＮ", "gin"},
		{"no-break and double space", "a\u00A0 b\t c ", "a b c"},
		{"soft hyphen, joiner, byte order mark", "\uFEFFa\u00ADb\u200Dc", "abc"},
		{"emoji keeps its pictures, loses its joiners", "👩\u200D🍳 ☕\uFE0F", "👩🍳 ☕"},
		{"Japanese voicing tells words apart", "か\u3099", "が"},
		{"Thai tone marks stay", "น้ำ", "น\u0E49\u0E4Dา"},
		{"Hangul in one piece", "\u1112\u1161\u11AB", "한"},
		{"NUL and other controls", "a\x00b\x1Bc", "abc"},
		{"broken UTF-8", "a\xFFb", "a\uFFFDb"},
		{"empty", "", ""},
	}
	for _, tt := range tests {
		if got := fold(tt.in); got != tt.want {
			t.Errorf("%s: fold(%+q) = %+q, want %+q", tt.why, tt.in, got, tt.want)
		}
	}
}

func TestFoldClipsLongKeysBetweenCharacters(t *testing.T) {
	got := fold(strings.Repeat("\uFDFA", 120)) // the character that folds longest
	if len(got) > maxKey || len(got) < maxKey-utf8.UTFMax || !utf8.ValidString(got) {
		t.Errorf("fold of 120 times U+FDFA has %d bytes (valid UTF-8: %v), want just under %d", len(got), utf8.ValidString(got), maxKey)
	}
}

// TestFoldLaws: folding again changes nothing, and texts that Unicode holds to
// be the same have the same key.
func TestFoldLaws(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := rapid.String().Draw(t, "s")
		holdFoldLaws(t, s)
	})
}

func FuzzFold(f *testing.F) {
	for _, s := range []string{"Cr\u00E8me", "İ", "\u0345", "ŉ", "ß\u0307", "Ω\u0345", "\u1E9E", "\xFF\u3099"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) { holdFoldLaws(t, s) })
}

func holdFoldLaws(t interface {
	Helper()
	Fatalf(string, ...any)
}, s string) {
	t.Helper()
	key := fold(s)
	if again := fold(key); again != key {
		t.Fatalf("fold(%+q) = %+q, folded again %+q", s, key, again)
	}
	for _, twin := range []string{norm.NFC.String(s), norm.NFD.String(s)} {
		if got := fold(twin); got != key && len(key) < maxKey-100 {
			t.Fatalf("fold(%+q) = %+q, but its twin %+q has %+q", s, key, twin, got)
		}
	}
	if !utf8.ValidString(key) || strings.ContainsRune(key, 0) || len(key) > maxKey {
		t.Fatalf("fold(%+q) = %+q cannot be stored", s, key)
	}
}

func TestLikeAnywhere(t *testing.T) {
	tests := []struct{ part, want string }{
		{"rum", "%rum%"},
		{"50%", `%50\%%`},
		{"a_b", `%a\_b%`},
		{`a\b`, `%a\\b%`},
		{"", "%%"},
	}
	for _, tt := range tests {
		if got := likeAnywhere(tt.part); got != tt.want {
			t.Errorf("likeAnywhere(%q) = %q, want %q", tt.part, got, tt.want)
		}
	}
}

// TestFoldLawsOfEveryCharacter holds the laws for each character alone.
func TestFoldLawsOfEveryCharacter(t *testing.T) {
	for r := rune(0); r <= utf8.MaxRune; r++ {
		if utf8.ValidRune(r) {
			holdFoldLaws(t, string(r))
		}
	}
}
