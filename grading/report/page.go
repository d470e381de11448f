package report

import (
	"bytes"
	"crypto/sha256"
	"embed"
	"encoding/base64"
	"fmt"
	"html/template"
	"io"
	"math"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"

	"coldbay/assets/messages"
	"coldbay/sim/bench"
)

//go:embed templates/*.html
var templates embed.FS

// head is what every page begins with. Policy allows the page's own style sheet, by its digest, and nothing else.
type head struct {
	Lang   string // code of the page's language
	Title  string
	Style  template.CSS
	Policy string
}

func newHead(lang, title, css string) head {
	sum := sha256.Sum256([]byte(css))
	return head{Lang: lang, Title: title, Style: template.CSS(css),
		Policy: "default-src 'none'; style-src 'sha256-" + base64.StdEncoding.EncodeToString(sum[:]) + "'; base-uri 'none'; form-action 'none'"}
}

// write fills a template in and writes it in one piece, so that an error leaves no half page behind.
func write(w io.Writer, msg *messages.Catalogue, name string, data any) error {
	t, err := template.New(name).Funcs(template.FuncMap{
		"t":       func(key string, kv ...any) string { return msg.T(key, texts(kv)...) },
		"rich":    func(key string, kv ...any) template.HTML { return rich(msg, key, texts(kv)) },
		"minutes": func(v float64) string { return minutes(msg, v) }, "clock": bench.Clock, "money": func(cents int) string { return msg.Decimal(bench.Money(cents)) },
		"short": func(v float64) string { return short(msg, v) }, "px": px, "join": strings.Join, "capital": capital,
	}).ParseFS(templates, "templates/*.html")
	if err != nil {
		return fmt.Errorf("report: %w", err)
	}
	var b bytes.Buffer
	if err := t.ExecuteTemplate(&b, name, data); err != nil {
		return fmt.Errorf("report: %w", err)
	}
	_, err = w.Write(bytes.Map(plain, b.Bytes()))
	return err
}

// spoken is a catalogue to write in: English where none is given.
func spoken(msg *messages.Catalogue) (*messages.Catalogue, error) {
	if msg != nil {
		return msg, nil
	}
	msg, err := messages.Load("en")
	if err != nil {
		return nil, fmt.Errorf("report: %w", err)
	}
	return msg, nil
}

// texts are a template's values as they are written.
func texts(kv []any) []string {
	out := make([]string, len(kv))
	for i, v := range kv {
		out[i] = fmt.Sprint(v)
	}
	return out
}

// rich is a message in which what stands between asterisks is strong. The asterisks are the message's own: those of a value stay as
// they are, and so does its markup.
func rich(msg *messages.Catalogue, key string, kv []string) template.HTML {
	var b strings.Builder
	for i, part := range strings.Split(template.HTMLEscapeString(msg.T(key)), "*") {
		if i > 0 {
			b.WriteString(choose(i%2 == 1, "<strong>", "</strong>"))
		}
		b.WriteString(part)
	}
	// In one pass, so that a value can't be taken for a place of the message.
	places := make([]string, len(kv))
	for i := 0; i+1 < len(kv); i += 2 {
		places[i], places[i+1] = "{"+kv[i]+"}", template.HTMLEscapeString(kv[i+1])
	}
	return template.HTML(strings.NewReplacer(places...).Replace(b.String()))
}

// plain drops what a name must not do to the text around it: control characters, and those that turn the direction of writing.
// Markup has none of them, so that they can go from a finished page.
func plain(r rune) rune {
	switch {
	case r == '\n' || r == '\t':
		return r
	case unicode.IsControl(r), r >= 0x202a && r <= 0x202e, r >= 0x2066 && r <= 0x2069, r == 0xfffe, r == 0xffff:
		return -1
	}
	return r
}

// minutes writes minutes to a tenth; a rounding to nothing has no sign.
func minutes(msg *messages.Catalogue, v float64) string {
	s := strconv.FormatFloat(v, 'f', 1, 64)
	if s == "-0.0" {
		s = "0.0"
	}
	return msg.Decimal(strings.Replace(s, "-", "−", 1))
}

// short writes a number with as many decimals as it needs, two at most.
func short(msg *messages.Catalogue, v float64) string {
	return msg.Decimal(strconv.FormatFloat(math.Round(v*100)/100, 'f', -1, 64))
}

// px writes a coordinate.
func px(v float64) string { return strconv.FormatFloat(math.Round(v*10)/10, 'f', -1, 64) }

// capital begins a sentence.
func capital(s string) string {
	r, n := utf8.DecodeRuneInString(s)
	if n == 0 || r == utf8.RuneError {
		return s
	}
	return string(unicode.ToUpper(r)) + s[n:]
}
