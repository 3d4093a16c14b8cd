package repo

import (
	"strings"
	"unicode"
	"unicode/utf8"

	"golang.org/x/text/unicode/norm"
)

// maxKey is the longest sort key in bytes. PostgreSQL refuses an index entry
// above 2,704 bytes, and one character can fold to 18 (U+FDFA).
const maxKey = 1000

// plainLetters are the Latin letters that Unicode takes for letters of their
// own, not for a letter with a mark, by the letters that people without them
// type. The list is ours.
var plainLetters = strings.NewReplacer(
	"ø", "o", "đ", "d", "ð", "d", "ħ", "h", "ł", "l", "ŧ", "t", "æ", "ae", "œ", "oe", "þ", "th", "ß", "ss",
)

// fold returns the key by which a name is found and sorted: compatibility
// forms made plain, case folded, accents and control characters dropped, runs
// of space made one. Keys compare by bytes. fold(fold(s)) is fold(s), and texts
// that differ only in how Unicode writes them have one key.
func fold(s string) string {
	s = norm.NFKD.String(strings.ToValidUTF8(s, "\uFFFD"))
	s = strings.Map(bare, s)
	// Capitals first: small letters with two forms (σ and ς, i and ı) have one.
	// x/text's case folding will not do: it turns Cherokee over and over.
	s = strings.ToLower(strings.ToUpper(s))
	s = plainLetters.Replace(norm.NFC.String(s)) // puts back together what NFKD took apart and is no accent
	return clipKey(strings.Join(strings.Fields(s), " "))
}

// bare drops accents and what cannot be seen. Only marks shared by many
// scripts are accents; the vowel signs of Indic scripts, Thai tone marks and
// the Japanese voicing marks tell words apart and stay.
func bare(r rune) rune {
	switch {
	case r == '\u3099' || r == '\u309A':
		return r
	case unicode.Is(unicode.Mn, r) && unicode.Is(unicode.Inherited, r):
		return -1
	case unicode.IsSpace(r):
		return ' '
	case unicode.IsControl(r), r == '\u200B', r == '\u200D', r == '\uFEFF', r == '\u00AD':
		return -1
	}
	return r
}

// clipKey cuts s to maxKey bytes between two characters.
func clipKey(s string) string {
	if len(s) <= maxKey {
		return s
	}
	end := maxKey
	for !utf8.RuneStart(s[end]) {
		end--
	}
	return strings.TrimRight(s[:end], " ")
}

// likeAnywhere returns the LIKE pattern, with \ as its escape, of texts that
// contain part.
func likeAnywhere(part string) string {
	return "%" + strings.NewReplacer(`\`, `\\`, `%`, `\%`, `_`, `\_`).Replace(part) + "%"
}
