package audit

import (
	"maps"

	"padturn/model"
)

// The day of these tests is small enough to be worked out by hand. One bay,
// north, has one connection; one sprayer, S1, sprays 60 ac/h, so an acre takes
// a minute. It rains from 06:40 to 07:00.
//
// Job J1 (60 ac) and its neighbour J4 (30 ac) get mix burndown, 10 gal/ac:
// 900 gal into a tank of 600, so two even loads of 45 ac and 450 gal, the
// second with 15 ac of J1 and 30 ac of J4. Job J2 (40 ac) gets mix blight, 15
// gal/ac: 600 gal, one load. J3 (5 ac) is left.
//
//	burndown, a load: glyphosate 32 floz/ac × 45 ac = 1440 floz = 11.25 gal
//	  AMS 17 lb/100gal × 450 gal = 76.5 lb, 2 bags of 51 lb
//	  carrier 450 − 11.25 = 438.75 gal, the first part 450 ÷ 2 = 225 gal
//	  filling: 3 + (2.25 + AMS 2 × 1.5 + 3 + glyphosate 1.125 + 0.5 + 1) + 2
//	  = 15.875 min = 952.5 s, so 953 s; with a changeover inside 1433 s
//	blight, a load: fungicide 8 floz/ac × 40 ac = 320 floz = 2.5 gal
//	  carrier 597.5 gal, the first part 300 gal
//	  filling: 3 + max(5.975, 3 + 0.25 + 0.5 + 1) + 2 = 10.975 min, so 659 s
//
// S1 is there from 05:30, the pad opens 06:00: 30 min held.
//
//	S1-1 fills 06:00:00 to 06:15:53, drives 10 min, sprays 06:25:53 to 06:40:00
//	  (847 s of 2700), and 07:00:00 to 07:30:53, back 07:40:53
//	S1-2 the open tote has 20 − 11.25 = 8.75 gal, so it runs dry inside:
//	  07:40:53 + 1433 s = 08:04:46; drives 10 min, sprays 15 ac to 08:29:46,
//	  drives min(10 + 11, 5) min, sprays 30 ac to 09:04:46, 11 min back 09:15:46
//	S1-3 cleanout 10 min, ready 09:25:46. Bay: rinse 08:04:46 to 08:06:46, then
//	  the fungicide goes on, but its drum comes at 09:20:00: done 09:28:00, so
//	  134 s of wait. Fills to 09:38:59, drives 12 min, sprays 40 min, 12 min
//	  back: 09:50:59, 10:30:59, 10:42:59
const (
	loadsCSV = `bay,seq,load,sprayer,mix,jobs,gal,carrier_gal,ready,setup_start,start,end,wait_min,held_min,cleanout,rinse,changeovers,back_at,run
north,1,S1-1,S1,burndown,J1=45.0000,450.0000,438.7500,05:30:00,06:00:00,06:00:00,06:15:53,0.0000,30.0000,,,0,07:40:53,J1;J4
north,2,S1-2,S1,burndown,J1=15.0000;J4=30.0000,450.0000,438.7500,07:40:53,07:40:53,07:40:53,08:04:46,0.0000,0.0000,,,1,09:15:46,J1;J4
north,3,S1-3,S1,blight,J2=40.0000,600.0000,597.5000,09:25:46,08:04:46,09:28:00,09:38:59,2.2333,0.0000,water flush,flush,1,10:42:59,J2
`
	amountsCSV = `load,step,product,amount,unit,how
S1-1,0,water,225.0000,gal,"carrier, first part"
S1-1,1,AMS,76.5000,lb,2 bags
S1-1,2,glyphosate 5.4 SL,11.2500,gal,metered
S1-1,3,water,213.7500,gal,"carrier, the rest"
S1-2,0,water,225.0000,gal,"carrier, first part"
S1-2,1,AMS,76.5000,lb,2 bags
S1-2,2,glyphosate 5.4 SL,11.2500,gal,metered
S1-2,3,water,213.7500,gal,"carrier, the rest"
S1-3,0,water,300.0000,gal,"carrier, first part"
S1-3,1,fungicide 4 SC,2.5000,gal,metered
S1-3,2,water,297.5000,gal,"carrier, the rest"
`
	connectionsCSV = `bay,connection,at,off,on,load
north,1,07:50:00,glyphosate 5.4 SL,glyphosate 5.4 SL,S1-2
north,1,09:20:00,glyphosate 5.4 SL,fungicide 4 SC,S1-3
`
	// Glyphosate: an open tote of 20 gal and a full one of 110, low below 110.
	// AMS: 4 bags of 51 lb.
	stockCSV = `product,at,event,change,level,low
glyphosate 5.4 SL,06:00:00,opening,130.0000,130.0000,no
glyphosate 5.4 SL,06:00:00,load S1-1,-11.2500,118.7500,no
glyphosate 5.4 SL,07:40:53,load S1-2,-11.2500,107.5000,yes
AMS,06:00:00,opening,204.0000,204.0000,no
AMS,06:00:00,load S1-1,-76.5000,127.5000,no
AMS,07:40:53,load S1-2,-76.5000,51.0000,no
fungicide 4 SC,06:00:00,opening,0.0000,0.0000,no
fungicide 4 SC,09:20:00,delivery,30.0000,30.0000,no
fungicide 4 SC,09:28:00,load S1-3,-2.5000,27.5000,no
`
	// 2000 gal at 06:00, 2 gal/min come in: 6053 s bring 201.7667, 1433 s
	// 47.7667, 4260 s 142, 734 s 24.4667.
	waterCSV = `at,event,water_gal,rinsate_gal
06:00:00,opening,2000.0000,0.0000
06:00:00,load S1-1,1561.2500,0.0000
07:40:53,load S1-2,1324.2667,0.0000
08:04:46,rinse S1-3,1362.0333,10.0000
09:15:46,cleanout S1-3,1454.0333,60.0000
09:28:00,load S1-3,881.0000,60.0000
`
	turnsCSV = `sprayer,load,what,from,to
S1,S1-1,held,05:30:00,06:00:00
S1,S1-1,fill,06:00:00,06:15:53
S1,S1-1,drive,06:15:53,06:25:53
S1,S1-1,spray,06:25:53,06:40:00
S1,S1-1,pause,06:40:00,07:00:00
S1,S1-1,spray,07:00:00,07:30:53
S1,S1-1,drive,07:30:53,07:40:53
S1,S1-2,fill,07:40:53,08:04:46
S1,S1-2,drive,08:04:46,08:14:46
S1,S1-2,spray,08:14:46,08:29:46
S1,S1-2,drive,08:29:46,08:34:46
S1,S1-2,spray,08:34:46,09:04:46
S1,S1-2,drive,09:04:46,09:15:46
S1,S1-3,cleanout,09:15:46,09:25:46
S1,S1-3,wait,09:25:46,09:28:00
S1,S1-3,fill,09:28:00,09:38:59
S1,S1-3,drive,09:38:59,09:50:59
S1,S1-3,spray,09:50:59,10:30:59
S1,S1-3,drive,10:30:59,10:42:59
`
	unsprayedCSV = `job,acres,reason
J3,5.0000,no time left before the pad closes
`
	// wait 134 s at $240/h; cleanout 10 min; J2 is for any sprayer: 64 min;
	// rinse 2 min at $60/h; 10 + 50 gal at $0.50; 2 changeovers at $5; J2 is
	// due 10:00 and has priority 2: 1859 s × 2 at $50/h; closing is 09:30: 539 s
	// at $102/h; timeliness at $0.01: 45 ac × 5453 s + 15 × 8986 s
	// + 30 × 11086 s + 2 × 40 × 16259 s = 2,013,475 ac s = 559.298611 ac h.
	costCSV = `part,amount,dollars
wait,0.037222,8.933333
cleanout,0.166667,40.000000
any_sprayer,1.066667,256.000000
rinse,0.033333,2.000000
rinsate,60.000000,30.000000
changeover,2.000000,10.000000
late,1.032778,51.638889
overtime,0.149722,15.271667
timeliness,559.298611,5.592986
total,,419.436875
`
	planJSON = `{"loads":[{},{},{}],"totals":{"loads":3,"cost":{"dollars":419.436875}}}`
)

const (
	glyphosate = "glyphosate 5.4 SL"
	fungicide  = "fungicide 4 SC"
)

// clock makes a moment.
func clock(hour, minute model.Clock) model.Clock { return hour*3600 + minute*60 }

func at(hour, minute model.Clock) *model.Clock { return new(clock(hour, minute)) }

func n(whole int64) *model.Decimal { return new(model.WholeDecimal(whole)) }

// exampleDay returns the records of the day.
func exampleDay() *model.Input {
	set := model.DefaultSettings()
	set.Pad.BetweenMin = n(5)
	set.Pad.Closes, set.Pad.OvertimeUntil = clock(9, 30), at(12, 0)
	set.Pad.CarrierGpm, set.Pad.MeterGpm = model.WholeDecimal(100), model.WholeDecimal(10)
	set.Pad.Bays = []model.BaySettings{{Name: "north", Connections: 1, Hooked: []string{glyphosate}}}
	set.Pad.Water = &model.WaterSettings{
		OnHandGal: model.WholeDecimal(2000), CapacityGal: model.WholeDecimal(2000), RefillGpm: model.WholeDecimal(2),
	}
	set.Costs.CrewPerH = model.WholeDecimal(60)
	return &model.Input{
		Settings: set,
		Jobs: []model.JobRow{
			{Job: "J1", Field: "creek", Sprayer: "S1", Mix: "burndown", Acres: *n(60), Crop: "corn", DriveMin: n(10)},
			{Job: "J4", Field: "mill", Sprayer: "S1", Mix: "burndown", Acres: *n(30), Crop: "corn", DriveMin: n(11)},
			{Job: "J2", Field: "hill", Mix: "blight", Acres: *n(40), Crop: "beans", DriveMin: n(12), Due: at(10, 0), Priority: n(2)},
			{Job: "J3", Field: "end", Mix: "blight", Acres: *n(5), Crop: "beans", DriveMin: n(30)},
		},
		Mixes: []model.MixRow{{Mix: "burndown", GPA: *n(10)}, {Mix: "blight", GPA: *n(15)}},
		Recipes: []model.RecipeRow{
			{Mix: "burndown", Product: glyphosate, Rate: *n(32), Unit: "floz/ac"},
			{Mix: "burndown", Product: "AMS", Rate: *n(17), Unit: "lb/100gal", Step: n(1)},
			{Mix: "blight", Product: fungicide, Rate: *n(8), Unit: "floz/ac"},
		},
		Products: []model.ProductRow{
			{Product: glyphosate, Form: "SL", Unit: "gal", Handling: "metered", Groups: []string{"herbicide"}, ReorderAt: n(110)},
			{Product: "AMS", Form: "SG", Unit: "lb", Handling: "hopper", Pack: n(51)},
			{Product: fungicide, Form: "SC", Unit: "gal", Handling: "metered", Groups: []string{"fungicide"}, TankLifeH: n(8)},
		},
		Stock: []model.StockRow{
			{Product: glyphosate, Container: "tote", Size: *n(110), Full: *n(1), Open: n(20)},
			{Product: "AMS", Container: "bag", Size: *n(51), Full: *n(4)},
		},
		Deliveries: []model.DeliveryRow{{At: clock(9, 20), Product: fungicide, Container: "drum", Size: *n(30), Count: *n(1)}},
		Sprayers:   []model.SprayerRow{{Sprayer: "S1", TankGal: *n(600), AcPerH: n(60), AvailableFrom: at(5, 30), WaitPerH: n(240)}},
		Rules: []model.RuleRow{
			{Where: "manifold", After: "@herbicide", Before: "@fungicide", Level: "flush"},
			{Where: "sprayer", After: "@herbicide", Before: "crop:beans", Level: "water flush"},
		},
		Holds: []model.HoldRow{{From: clock(6, 40), To: clock(7, 0), Kind: "rain"}},
	}
}

var exampleFiles = map[string]string{
	"loads.csv": loadsCSV, "amounts.csv": amountsCSV, "connections.csv": connectionsCSV, "stock.csv": stockCSV,
	"water.csv": waterCSV, "turns.csv": turnsCSV, "unsprayed.csv": unsprayedCSV, "cost.csv": costCSV, "plan.json": planJSON,
}

// examplePlan returns the files of the plan.
func examplePlan() map[string][]byte {
	files := map[string][]byte{}
	for name := range maps.Keys(exampleFiles) {
		files[name] = []byte(exampleFiles[name])
	}
	return files
}
