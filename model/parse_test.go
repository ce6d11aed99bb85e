package model_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"padturn/model"
)

func TestParseDecimal(t *testing.T) {
	for _, row := range []struct {
		name, text string
		want       model.Decimal
	}{
		{"zero", "0", 0},
		{"minus zero", "-0", 0},
		{"whole", "40", 40 * model.One},
		{"point", "40.5", 40_500_000_000},
		{"trailing zero", "1.50", 1_500_000_000},
		{"billionth", "0.000000001", 1},
		{"negative", "-12.25", -12_250_000_000},
		{"largest", "9223372036.854775807", 1<<63 - 1},
		{"smallest", "-9223372036.854775808", -1 << 63},
	} {
		t.Run(row.name, func(t *testing.T) {
			got, err := model.ParseDecimal(row.text)
			require.NoError(t, err)
			assert.Equal(t, row.want, got)
		})
	}
}

func TestParseDecimalRefuses(t *testing.T) {
	for _, text := range []string{"", "-", "+5", ".5", "5.", "007", "1,2", "1e3", "NaN", "0x1", "1_000", " 1", "1\n", "٣", "--1", "1.2.3"} {
		_, err := model.ParseDecimal(text)
		assert.ErrorIs(t, err, model.ErrNotPlain, "%q", text)
	}
	_, err := model.ParseDecimal("9223372036.854775808")
	assert.ErrorIs(t, err, model.ErrTooLarge)
	_, err = model.ParseDecimal("0.0123456789")
	assert.EqualError(t, err, "has 10 digits after the point; at most 9 are kept exactly")
}

func TestDecimalsReadBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := model.Decimal(rapid.Int64Min(-1<<63+1).Draw(t, "d"))
		got, err := model.ParseDecimal(d.String())
		require.NoError(t, err)
		require.Equal(t, d, got)
	})
}

func TestParseClock(t *testing.T) {
	for text, want := range map[string]model.Clock{
		"00:00:00": 0, "06:05:09": 21_909, "23:59:59": 86_399, "00:00:00+1": 86_400, "01:00:00+2": 176_400,
	} {
		got, err := model.ParseClock(text)
		require.NoError(t, err, text)
		assert.Equal(t, want, got, text)
		assert.Equal(t, text, got.String())
	}
	for _, text := range []string{"", "06:05", "6:05:00", "24:00:00", "12:60:00", "12:00:60", "12:00:00+0", "12:00:00+", "12:00:00+100", "-1:00:00", "12:00:00 "} {
		_, err := model.ParseClock(text)
		assert.ErrorContains(t, err, "expected HH:MM:SS", text)
	}
}

func TestParseHHMM(t *testing.T) {
	for text, want := range map[string]model.Clock{
		"00:00": 0, "06:30": 23_400, "23:59": 86_340, "00:00+1": 86_400, "01:15+1": 90_900,
	} {
		got, err := model.ParseHHMM(text)
		require.NoError(t, err, text)
		assert.Equal(t, want, got, text)
		assert.Equal(t, text, got.HHMM())
	}
	for text, want := range map[string]model.Clock{"6:30": 23_400, "06:30:00": 23_400, "1:15:00+1": 90_900} {
		got, err := model.ParseHHMM(text)
		require.NoError(t, err, text)
		assert.Equal(t, want, got, text)
	}
	for _, text := range []string{"", "24:00", "12:60", "12:00+2", "12:00 pm", "12:00:30", "-1:00", "1200", "12:00\n", "6:3"} {
		_, err := model.ParseHHMM(text)
		assert.ErrorContains(t, err, "expected a time as HH:MM", text)
	}
}

func TestClocksReadBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		at := model.Clock(rapid.Int64Range(0, 99*86_400).Draw(t, "at"))
		got, err := model.ParseClock(at.String())
		require.NoError(t, err)
		require.Equal(t, at, got)
	})
}

func TestSuggest(t *testing.T) {
	known := []string{"corn-pre", "burndown", "S1", "S12", "soybean", "uan", "", "atrazine 4 SC"}
	for _, row := range []struct{ name, word, want string }{
		{"one letter", "corn pre", "corn-pre"},
		{"case does not count", "BURNDOWN", "burndown"},
		{"swapped letters", "brundown", "burndown"},
		{"three letters of a long word", "soyben s", "soybean"},
		{"another number", "S3", "S1"},
		{"short word, two letters off", "un2", ""},
		{"nothing near", "glyphosate", ""},
		{"without what follows", "Atrazine", "atrazine 4 SC"},
		{"half a word", "atra", ""},
		{"blank", "", ""},
	} {
		t.Run(row.name, func(t *testing.T) {
			want := ""
			if row.want != "" {
				want = `; did you mean "` + row.want + `"?`
			}
			assert.Equal(t, want, model.Suggest(row.word, known))
		})
	}
	assert.Empty(t, model.Suggest("soy", []string{"corn", "wheat"}), "three letters off a word of four")
}
