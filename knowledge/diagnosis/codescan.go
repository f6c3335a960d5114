package diagnosis

import "strings"

// What Mentions looks for. The patterns are simple, and everybody downloads what
// the program links: regular expressions would be a twentieth of it. The test
// holds each function against the regular expression that stands above it.

const spaces = "\t\n\f\r "

func wordByte(c byte) bool {
	return c >= '0' && c <= '9' || c >= 'A' && c <= 'Z' || c >= 'a' && c <= 'z' || c == '_'
}

// tokens gives the runs of letters, digits and underscores of ASCII.
func tokens(text string) [][2]int {
	var out [][2]int
	for i := 0; i < len(text); i++ {
		start := i
		for i < len(text) && wordByte(text[i]) {
			i++
		}
		if i > start {
			out = append(out, [2]int{start, i})
		}
	}
	return out
}

func allDigits(s string) bool {
	for i := range len(s) {
		if s[i] < '0' || s[i] > '9' {
			return false
		}
	}
	return true
}

// lettered finds numbers with their letter: (?i)\bp[ -]?[o0-3][0-9]{3}\b
func lettered(text string) [][2]int {
	number := func(s string) bool {
		return len(s) == 4 && (strings.IndexByte("oO", s[0]) >= 0 || s[0] >= '0' && s[0] <= '3') && allDigits(s[1:])
	}
	letter := func(s string) bool { return s == "p" || s == "P" }
	var out [][2]int
	found := tokens(text)
	for i, t := range found {
		word := text[t[0]:t[1]]
		if letter(word[:1]) && number(word[1:]) {
			out = append(out, t)
		} else if letter(word) && i+1 < len(found) {
			next := found[i+1]
			gap := text[t[1]:next[0]]
			if (gap == " " || gap == "-") && number(text[next[0]:next[1]]) {
				out = append(out, [2]int{t[0], next[1]})
			}
		}
	}
	return out
}

// digits finds numbers of a code's length: \b[0-9]{2,4}\b
func digits(text string) [][2]int {
	var out [][2]int
	for _, t := range tokens(text) {
		if n := t[1] - t[0]; n >= 2 && n <= 4 && allDigits(text[t[0]:t[1]]) {
			out = append(out, t)
		}
	}
	return out
}

// codeWords finds what people call a code:
// (?i)\b(codes?|dtcs?|faults?|flash(es|ed|ing)?)\b
func codeWords(text string) [][2]int {
	var out [][2]int
	for _, t := range tokens(text) {
		switch strings.ToLower(text[t[0]:t[1]]) {
		case "code", "codes", "dtc", "dtcs", "fault", "faults", "flash", "flashes", "flashed", "flashing":
			out = append(out, t)
		}
	}
	return out
}

// between says whether a text may stand between the word "code" and a number,
// and between two numbers of a list:
// (?i)^[\s,;:#&/+.-]*(numbers?|nos?\.?|is|are|and|or|stored|set)?[\s,;:#&/+.-]*$
func between(text string) bool {
	switch strings.ToLower(strings.Trim(text, spaces+",;:#&/+.-")) {
	case "", "number", "numbers", "no", "nos", "is", "are", "and", "or", "stored", "set":
		return true
	}
	return false
}

// measured says whether the text after a number makes it a quantity:
// (?i)^\s*(rpm|mph|psi|kpa|k\b|miles?|km|ohms?|volts?|v\b|hours?|hrs?|minutes?|seconds?|degrees?|deg|%|°)
func measured(text string) bool {
	text = strings.TrimLeft(text, spaces)
	for _, unit := range []string{"%", "°"} {
		if strings.HasPrefix(text, unit) {
			return true
		}
	}
	end := 0
	for end < len(text) && wordByte(text[end]) {
		end++
	}
	word := strings.ToLower(text[:end])
	for _, unit := range []string{"rpm", "mph", "psi", "kpa", "mile", "km", "ohm", "volt", "hour", "hr", "minute", "second", "deg"} {
		if strings.HasPrefix(word, unit) {
			return true
		}
	}
	return word == "k" || word == "v"
}
