package planfile

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"padturn/model"
)

func TestSumOfTellsDaysApart(t *testing.T) {
	day := func() *model.Input {
		return &model.Input{Settings: model.DefaultSettings(), Jobs: []model.JobRow{{Job: "J1", Acres: model.One}}}
	}
	assert.Equal(t, SumOf(day()), SumOf(day()))
	other := day()
	other.Jobs[0].DriveMin = model.Some(model.One)
	assert.NotEqual(t, SumOf(day()), SumOf(other))
	empty := day()
	empty.Holds = []model.HoldRow{}
	assert.Equal(t, SumOf(day()), SumOf(empty), "no holds, whether there is a file or not")
}
