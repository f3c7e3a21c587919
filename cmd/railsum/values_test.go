package main

import (
	"bytes"
	"context"
	"io"
	"strings"
	"testing"
)

// TestPrintedValuesParseBack types every printed value in again: it must be a
// line that answers with itself.
func TestPrintedValuesParseBack(t *testing.T) {
	for _, line := range []string{
		"25 m at H0", "25 m at H0 as mm", "3k3", "4R7 + 0 ohm", "100n", "2 ft 6 in", "2 ft 6 in as ft", "3/8 in", "3/8 in as mm",
		"5 % of 15 V", "15 V +- 5 %", "20 mm +- 0.5 mm", "awg(18)", "awg(18) as mm2", "20 degC", "20 degC as degF", "-5 degC as degF",
		"20 degC - 5 degC", "80 km/h at N as mm/s", "1:87", "0x1F", "1 V > 2 V", "2 V > 1 V", `"the ""long"" siding"`, "bands(3k3)",
		"1 / 3", "1e-12 m", "123456789", "12345 mm", "1e20", "9.81 m/s2 * 2 kg", "143 A*sqrt(s)/mm2", "0.39 %/K", "25 permille", "3 ‰",
		"5 N*m", "1 kg * 1 m2", "2 Ah", "1.5 mm2 * 10 m as cm3", "sin(30 deg)", "12 V / 8 ohm", "sqrt(2 m2)", "10 lx", "8 bit", "2 kHz",
	} {
		for _, lang := range []string{"C", "C.UTF-8"} {
			first, ok := answered(t, lang, line)
			if !ok {
				t.Errorf("%s has no answer", line)
				continue
			}
			again, ok := answered(t, lang, first)
			if !ok || again != first {
				t.Errorf("%s, LANG=%s: %s is printed, and typed in again answers %q", line, lang, first, again)
			}
		}
	}
}

// answered is the answer to a line without its line break.
func answered(t *testing.T, lang, line string) (string, bool) {
	t.Helper()
	var out bytes.Buffer
	code := run(context.Background(), world{
		args: []string{"answer", line}, stdout: &out, stderr: io.Discard, dir: t.TempDir(),
		getenv: func(name string) string { return map[string]string{"LANG": lang}[name] },
	})
	return strings.TrimSuffix(out.String(), "\n"), code == codeWell
}

// TestLocales: numbers and words do not follow the locale or the time zone.
func TestLocales(t *testing.T) {
	const layout = "../../testdata/layouts/gannet_bay.sums"
	for _, form := range []string{"", "--json", "--plain"} {
		want := ""
		for _, lang := range []string{"en_GB.UTF-8", "de_DE.UTF-8", "tr_TR.UTF-8", "ja_JP.UTF-8"} {
			var out, errs bytes.Buffer
			args := []string{"read", layout}
			if form != "" {
				args = append(args, form)
			}
			run(context.Background(), world{
				args: args, stdout: &out, stderr: &errs, dir: ".",
				getenv: func(name string) string { return map[string]string{"LANG": lang, "TZ": "Asia/Tokyo"}[name] },
			})
			if out.Len() == 0 {
				t.Fatalf("nothing is written: %s", &errs)
			}
			if want == "" {
				want = out.String()
			} else if out.String() != want {
				t.Errorf("%s reads differently under %s", form, lang)
			}
		}
	}
}
