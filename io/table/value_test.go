package table_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"padturn/io/table"
	"padturn/model"
)

func TestParseDecimal(t *testing.T) {
	for text, want := range map[string]model.Decimal{
		"0": 0, "-0": 0, "40": 40_000_000_000, "40.5": 40_500_000_000, "0.1": 100_000_000,
		"0.000000001": 1, "-12.25": -12_250_000_000, "1.50": 1_500_000_000,
		"999999999.999999999": 999_999_999_999_999_999,
	} {
		got, err := table.ParseDecimal(text)
		require.NoError(t, err, text)
		assert.Equal(t, want, got, text)
	}
}

func TestParseDecimalRefuses(t *testing.T) {
	for text, want := range map[string]string{
		"1,200":               "write 1200 if the comma is between thousands, 1.2 if it is a decimal comma",
		"-1,234":              "write -1234 if the comma is between thousands, -1.234 if",
		"5,000":               "write 5000 if the comma is between thousands, 5 if",
		"1,234,567":           "write 1234567, not 1,234,567",
		"1,200.5":             "write 1200.5, not 1,200.5",
		"40,5":                "write 40.5, not 40,5",
		"-40,5":               "write -40.5, not -40,5",
		"1e3":                 "without an exponent",
		"NaN":                 "is not a number",
		"-Infinity":           "is not a number",
		"0x1F":                "only the number",
		"1_000":               "such as 40.5",
		"1 200":               "such as 40.5",
		"+5":                  "such as 40.5",
		"--5":                 "such as 40.5",
		"1.2.3":               "such as 40.5",
		"":                    "such as 40.5",
		"-":                   "such as 40.5",
		"½":                   "such as 40.5",
		"٣":                   "such as 40.5",
		".5":                  "digits on both sides",
		"5.":                  "digits on both sides",
		"007":                 "leave out the zeros",
		"40 ac":               "without a unit",
		"10%":                 "without a unit",
		"1000000000":          "at most 9 digits",
		"0.0123456789":        "has 10 digits after the point",
		"9223372036854775808": "at most 9 digits",
	} {
		_, err := table.ParseDecimal(text)
		require.Error(t, err, text)
		assert.Contains(t, err.Error(), want, text)
	}
	_, err := table.ParseDecimal(strings.Repeat("1,000", 10_000))
	require.Error(t, err)
	assert.Less(t, len(err.Error()), 200)
}

func TestDecimalsReadBackAsTheyArePrinted(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		limit := int64(model.WholeDecimal(1_000_000_000)) - 1
		d := model.Decimal(rapid.Int64Range(-limit, limit).Draw(t, "d"))
		got, err := table.ParseDecimal(d.String())
		require.NoError(t, err)
		require.Equal(t, d, got)
	})
}

func TestParseDegrees(t *testing.T) {
	got, err := table.ParseDegrees("-93.123456789012", 180)
	require.NoError(t, err)
	assert.Equal(t, -93.123456789012, got)
	for _, text := range []string{"90.01", "-91", strings.Repeat("9", 400)} {
		_, err := table.ParseDegrees(text, 90)
		assert.ErrorContains(t, err, "expected decimal degrees", text)
	}
	for _, text := range []string{"41°30'", "NaN", "41,5", "4e1"} {
		_, err := table.ParseDegrees(text, 90)
		assert.ErrorContains(t, err, "is not a", text)
	}
}

func TestParseYesNo(t *testing.T) {
	for text, want := range map[string]bool{"yes": true, "YES": true, "no": false, "No": false} {
		got, err := table.ParseYesNo(text)
		require.NoError(t, err)
		assert.Equal(t, want, got)
	}
	for _, text := range []string{"true", "1", "y", "x"} {
		_, err := table.ParseYesNo(text)
		assert.Error(t, err, text)
	}
}

func TestCheckName(t *testing.T) {
	for _, name := range []string{"north", "glyphosate 5.4 SL", "a-b", "a+b", "x@y", "Café ½", "農", "", "J12 (west), lower"} {
		assert.NoError(t, table.CheckName(name), name)
	}
	for _, name := range []string{"=1", "+1", "-1", "@a", "a;b", "a=b", "a|b", "a\tb", "a\nb", "a\u200bb", "\u202ea", "a\u2028b"} {
		assert.Error(t, table.CheckName(name), "%q", name)
	}
}

func TestFindingsAreSorted(t *testing.T) {
	found := table.Findings{Errors: []table.Fault{
		{File: "b", Line: 1}, {File: "a", Line: 10, Field: 1}, {File: "a", Line: 2, Field: 3}, {File: "a", Line: 2, Field: 1}, {File: "a"},
	}}
	found.Sort()
	assert.Equal(t, []table.Fault{
		{File: "a"}, {File: "a", Line: 2, Field: 1}, {File: "a", Line: 2, Field: 3}, {File: "a", Line: 10, Field: 1}, {File: "b", Line: 1},
	}, found.Errors)
}
