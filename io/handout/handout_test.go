package handout

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"padturn/io/planfile"
	"padturn/model"
)

// longDay is the sample of io/planfile that has something of everything.
func longDay(t *testing.T) *Handout {
	d, err := planfile.Read("../planfile/testdata/long/plan.json")
	require.NoError(t, err)
	h, err := Of(d)
	require.NoError(t, err)
	return h
}

func sheet(t *testing.T, h *Handout, load string) Sheet {
	for _, s := range h.Sheets {
		if s.Load == load {
			return s
		}
	}
	require.Fail(t, "no sheet", load)
	return Sheet{}
}

func TestSheetsStandInTheOrderOfTheBays(t *testing.T) {
	h := longDay(t)
	var loads []string
	for _, s := range h.Sheets {
		loads = append(loads, s.Load)
	}
	assert.Equal(t, []string{"R1-1", "R2-1", "Flèche 農場 rouge à très longue rampe-1", "R1-2"}, loads)
	require.Len(t, h.Bays, 2)
	assert.Equal(t, []Hooked{{1, "glyphosate 5.4 SL", true}, {2, "atrazine 4 SC", false}}, h.Bays[0].Opening)
	assert.Equal(t, []Hooked{{Connection: 1}, {Connection: 2}}, h.Bays[1].Opening)
	assert.Equal(t, []Left{{"J5", "=far", "80.0 ac", "no room before the pad closes at 02:00+1"}}, h.Unsprayed)
}

func TestSheetOfALoad(t *testing.T) {
	s := sheet(t, longDay(t), "R1-1")
	assert.Equal(t, []any{1, 2, "not known: ask the operator", "½ rate near the creek", "15 gal/ac", "1200 gal", "80.0 ac"},
		[]any{s.Seq, s.OfBay, s.Before, s.MixNote, s.Rate, s.Spray.String(), s.Area.String()})
	assert.False(t, s.JarTest, "bay north's last mix was burndown")
	var lines [][]string
	for _, l := range s.Lines {
		lines = append(lines, []string{l.Product, l.Measure, l.Otherwise(), l.From, l.Tank.String(), l.Agitate})
	}
	assert.Equal(t, [][]string{
		{"water", "600 gal", "", "carrier line", "600 gal", ""},
		{"ammonium sulfate", "2 bags of 51 lb", "= 102.0 lb", "hopper, from bags", "600 gal",
			"agitate until it is wholly dispersed, 3 min at the least"},
		{"glyphosate 5.4 SL", "20.0 gal", "", "connection 1", "620 gal", ""},
		// 12 gal at 7.5 lb/gal are 90 lb.
		{"Öl-Zusatz 農 (crop oil), 2.5 gal jugs", "4 jugs of 2.5 gal + 2 gal", "= 1536 fl oz · 90.0 lb by scale",
			"hopper, from jugs", "632 gal", ""},
		{"water", "568 gal", "", "carrier line", "1200 gal", ""},
	}, lines)
}

func TestSheetOfAMixNotUsedBefore(t *testing.T) {
	h := longDay(t)
	s := sheet(t, h, "R2-1")
	assert.True(t, s.JarTest)
	assert.Contains(t, s.Cautions[0].Text, "JAR TEST first")
	assert.Contains(t, s.Cautions[1].Text, "RESTRICTED USE, only by or under a certified applicator: atrazine 4 SC.")
	assert.Contains(t, s.Cautions[2].Text, "DANGER: signal word of mesotrione 4 SC")
	assert.Contains(t, s.Cautions[5].Text, "Spray out by 11:30: tank life of mesotrione 4 SC.")
	assert.False(t, sheet(t, h, "R1-2").JarTest, "R2-1 comes before it")
	assert.Equal(t, "burndown (R1-1)", sheet(t, h, "R1-2").Before)
	// 15.1875 gal over 25 and 15.5 of 40.5 ac: 9.375 and 5.8125, to 15.2.
	assert.Equal(t, []Restricted{
		{"atrazine 4 SC", "99999-12", "9.4 gal", "Nord 農", "K. Åberg", "corn", "25.0 ac"},
		{"atrazine 4 SC", "99999-12", "5.8 gal", "Süd", "", "corn", "15.5 ac"},
	}, s.Record)
	require.Len(t, s.Changes, 1)
	assert.Equal(t, "connection 2: atrazine 4 SC off, mesotrione 4 SC on, during the fill", s.Changes[0].Words())
	assert.Equal(t, "padturn|load|R2-1|2026-05-04|"+h.Revision, s.QR)
}

// TestWeighedCarrier: 792.9 gal of a fertilizer at 11.06 lb/gal, in two lines.
func TestWeighedCarrier(t *testing.T) {
	s := sheet(t, longDay(t), "R2-1")
	first, last := s.Lines[0], s.Lines[len(s.Lines)-1]
	assert.Equal(t, []string{"405 gal", "4479.3 lb by scale"}, []string{first.Measure, first.Otherwise()})
	assert.Equal(t, []string{"388 gal", "4290.3 lb by scale"}, []string{last.Measure, last.Otherwise()}) // 8769.6295 in all, 792.9 gal
}

func TestStaging(t *testing.T) {
	h := longDay(t)
	require.Len(t, h.Bays[0].Hours, 2)
	six := h.Bays[0].Hours[0]
	var bring []string
	for _, b := range six.Bring {
		bring = append(bring, b.Product+": "+b.Packs()+", "+b.Needed())
	}
	assert.Equal(t, []string{
		"ammonium sulfate: 2 bags of 51 lb, 102.0 lb needed",
		"Öl-Zusatz 農 (crop oil), 2.5 gal jugs: 5 jugs of 2.5 gal, 1536 fl oz needed",
	}, bring)
	var empty []string
	for _, e := range six.Empty {
		empty = append(empty, e.Product+": "+e.Words())
	}
	assert.Equal(t, []string{"ammonium sulfate: 2 bags of 51 lb", "Öl-Zusatz 農 (crop oil), 2.5 gal jugs: 4 jugs of 2.5 gal"}, empty)
	south := h.Bays[1].Hours[0]
	require.Len(t, south.Connect, 4)
	assert.Equal(t, "connection 1: fresh tote of glyphosate 5.4 SL, during the fill", south.Connect[1].Words())
	assert.Equal(t, "tote of 45 gal", south.Connect[1].Container)
	assert.Contains(t, south.Empty, Empty{"glyphosate 5.4 SL", 1, "tote of 45 gal"})
}

func TestStocks(t *testing.T) {
	h := longDay(t)
	s := h.Stocks[0]
	assert.Equal(t, []string{"glyphosate 5.4 SL", "90", "50", "50"}, []string{s.Product, s.Text(s.Opening()), s.Text(s.Last()), s.Text(s.Least)})
	require.NotNil(t, s.LowFrom)
	assert.Equal(t, "06:08:00", s.LowFrom.String())
	assert.True(t, h.Stocks[1].Points[1].Delivery)
	from, to := h.Span(h.Stocks[1])
	assert.Equal(t, []string{"06:00:00", "23:40:00"}, []string{from.String(), to.String()})
}

func TestRevisionTellsPlansApart(t *testing.T) {
	d, err := planfile.Read("../planfile/testdata/long/plan.json")
	require.NoError(t, err)
	before, err := d.Revision()
	require.NoError(t, err)
	assert.Regexp(t, "^[0-9a-f]{8}$", before)
	d.Loads[0].Start++
	after, err := d.Revision()
	require.NoError(t, err)
	assert.NotEqual(t, before, after)
}

// TestBegunLoadsAreNotFilledAgain: a replan's sheets are of what is to come.
func TestBegunLoadsAreNotFilledAgain(t *testing.T) {
	d, err := planfile.Read("../planfile/testdata/long/plan.json")
	require.NoError(t, err)
	begun, at := d.Loads[0].Load, d.Loads[1].Start
	d.Replan = &planfile.Replan{At: at, Number: 2, Begun: []string{begun}}
	h, err := Of(d)
	require.NoError(t, err)
	assert.Equal(t, "replan 2 at "+model.Clock(at).HHMM(), h.Replan)
	assert.Len(t, h.ToFill(), len(d.Loads)-1)
	assert.Len(t, h.Sheets, len(d.Loads), "what was rounded off begun loads still counts")
	for _, s := range h.ToFill() {
		assert.NotEqual(t, begun, s.Load)
	}
	for _, b := range h.Bays {
		for _, turn := range b.Order {
			assert.Equal(t, turn.Load == begun, turn.Begun)
		}
		for _, hour := range b.Hours {
			for _, c := range hour.Connect {
				assert.GreaterOrEqual(t, c.At, at)
			}
		}
	}
}

// TestPlanEditedByHand: what leads nowhere is told, and is no panic.
func TestPlanEditedByHand(t *testing.T) {
	d, err := planfile.Read("../planfile/testdata/long/plan.json")
	require.NoError(t, err)
	d.Products[1].Unit, d.Loads[0].Steps[1].Product = "ac", "sulphate"
	d.Products[3].DensityLbGal = new(planfile.Number(0))
	_, err = Of(d)
	assert.EqualError(t, err, "product atrazine 4 SC: there is no stock unit \"ac\"\n"+
		"load R1-1, step 1: \"sulphate\" is none of the plan's products")
	d.Products[1].Unit, d.Loads[0].Steps[1].Product = "gal", "ammonium sulfate"
	_, err = Of(d)
	assert.NoError(t, err, "a density of nothing is none")
}

func TestEmptyDay(t *testing.T) {
	d, err := planfile.Read("../planfile/testdata/empty/plan.json")
	require.NoError(t, err)
	h, err := Of(d)
	require.NoError(t, err)
	assert.Empty(t, h.Sheets)
	assert.Len(t, h.Unsprayed, 1)
}
