package outside

import (
	"fmt"
	"io"
	"slices"

	"padturn/model"
)

// Server is an instance of two machines with a common server that loads and
// unloads them: P2,S1|s,t|Cmax.
//
// A day covers the problem without unloading, P2,S1|s|Cmax. Run backwards, a
// machine works on a job first and then needs the server for as long as loading
// takes; its makespan is the same. As a day: machines are sprayers, the server is
// the bay, the work on a job is the cleanout that its mix asks for, which needs
// neither bay nor crew, and loading is filling. Jobs are for any sprayer. Only
// overtime costs, so that a plan costs its makespan in dollars less
// [Server.Free].
//
// Unloading is left out: a sprayer visits the pad once a load, and what it does
// between two visits cannot be made to end in a second visit at once.
type Server struct {
	Work, Loading, Unloading []int // by job
}

// ReadServers reads the format of the P2,S1|sj,tj|Cmax collection: the number of
// instances, and for each the numbers of jobs and machines, then the times of
// work, loading and unloading.
func ReadServers(r io.Reader) ([]*Server, error) {
	w := newWords(r)
	count := w.number("the number of instances", 1, mostJobs)
	var list []*Server
	for range count {
		n := w.number("the number of jobs", 1, mostJobs)
		w.number("two machines", 2, 2)
		list = append(list, &Server{
			Work:      w.numbers(n, "the work on a job", 1, mostMinutes),
			Loading:   w.numbers(n, "the loading of a job", 1, mostGPA/2),
			Unloading: w.numbers(n, "the unloading of a job", 0, mostTime),
		})
		if w.err != nil {
			return nil, fmt.Errorf("instance %d: %w", len(list), w.err)
		}
	}
	return list, w.end()
}

// sprayTime is what spraying takes a sprayer at least: half an acre at 1800 ac/h
// is a second. Cleanouts are shorter by it, and sprayers are there from the
// first second on, so that work and loading add up exactly.
const (
	sprayTime    model.Clock = 1
	secondAcPerH             = 1800
	halfAcre                 = model.One / 2
)

// lessSprayTime returns minutes less a second.
func lessSprayTime(minutes int) model.Decimal {
	return model.WholeDecimal(int64(minutes)) - model.One/60 - 1
}

// Day says the instance as a day, without unloading.
func (s *Server) Day() model.Input {
	in := bareDay()
	payMakespan(&in)
	in.Settings.Pad.CarrierGpm = model.One // a gallon is a minute
	addBays(&in, 1, 0)
	s.addLevels(&in)
	addBags(&in, "rinse water", 1)
	addMix(&in, "clean", model.One, "rinse water")
	for m := range 2 {
		row := addSprayer(&in, fmt.Sprintf("machine %d", m+1), mostTank, secondAcPerH)
		row.LastMix, row.AvailableFrom = "clean", model.Some(sprayTime)
	}
	for j, loading := range s.Loading {
		name := jobName(j)
		addBags(&in, "marker "+name, 1)
		addMix(&in, name, 2*model.WholeDecimal(int64(loading)), "marker "+name, workName(s.Work[j]))
		addJob(&in, name, "", name, halfAcre)
	}
	return in
}

func workName(minutes int) string { return fmt.Sprintf("work %d", minutes) }

// addLevels adds a cleanout level for each time that work takes, and a product
// that asks for it.
func (s *Server) addLevels(in *model.Input) {
	times := slices.Clone(s.Work)
	slices.Sort(times)
	for _, work := range slices.Compact(times) {
		name := workName(work)
		addBags(in, name, 1)
		in.Settings.CleanoutLevels = append(in.Settings.CleanoutLevels, model.LevelSettings{Name: name, Min: lessSprayTime(work)})
		in.Rules = append(in.Rules, model.RuleRow{Where: "sprayer", After: "*", Before: name, Level: name})
	}
}

// Free is how much of a makespan a plan does not pay.
func (s *Server) Free() int { return makespanFree }

// Value works out the makespan of a plan: the server takes the jobs in the
// plan's order, each as soon as its machine has done the work on it.
func (s *Server) Value(plan *model.Plan) int {
	var machine [2]int // when each is free
	server := 0
	for i := range plan.Loads {
		l := &plan.Loads[i]
		j := l.Parts[0].Job
		server = max(server, machine[l.Sprayer]+s.Work[j]) + s.Loading[j]
		machine[l.Sprayer] = server
	}
	return server
}

// LowerBound returns a makespan that no plan goes below: half of all work and
// loading, where the second machine cannot begin before the server has loaded
// the first; all loading before the least work; and the longest job.
func (s *Server) LowerBound() int {
	longest := 0
	for j := range s.Work {
		longest = max(longest, s.Work[j]+s.Loading[j])
	}
	all := total(s.Work) + total(s.Loading) + slices.Min(s.Loading)
	if len(s.Work) == 1 {
		return longest
	}
	return max(longest, (all+1)/2, total(s.Loading)+slices.Min(s.Work))
}
