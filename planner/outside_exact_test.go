package planner_test

import (
	"math"

	"padturn/planner/outside"
)

// exactJobs is how many jobs every order can be tried of in a moment.
const exactJobs = 8

// permute calls visit with every order of the jobs 0 to n-1 that begins with
// the first `fixed` of list. visit must not keep the list.
func permute(list []int, fixed int, visit func([]int)) {
	if fixed == len(list) {
		visit(list)
		return
	}
	for i := fixed; i < len(list); i++ {
		list[fixed], list[i] = list[i], list[fixed]
		permute(list, fixed+1, visit)
		list[fixed], list[i] = list[i], list[fixed]
	}
}

func upTo(n int) []int {
	list := make([]int, n)
	for i := range list {
		list[i] = i
	}
	return list
}

// fewestInsertions tries every order of a tool switching instance.
func fewestInsertions(s *outside.Switching) int {
	best := math.MaxInt
	permute(upTo(len(s.Jobs)), 0, func(order []int) { best = min(best, s.Insertions(order)) })
	return best
}

// shortestMakespan tries every order of every set of jobs on one machine, and
// then every way to share the jobs out.
func shortestMakespan(p *outside.Parallel) int {
	n := len(p.Work)
	length := make([]int, 1<<n) // by set of jobs
	for set := range length {
		var jobs []int
		for j := range n {
			if set>>j&1 == 1 {
				jobs = append(jobs, j)
			}
		}
		length[set] = math.MaxInt
		permute(jobs, 0, func(order []int) { length[set] = min(length[set], p.Length(order)) })
	}
	best := length
	for range p.Machines - 1 {
		best = withOneMore(best, length)
	}
	return best[len(best)-1]
}

// withOneMore returns, by set of jobs, the shortest makespan with one more
// machine than in rest.
func withOneMore(rest, length []int) []int {
	best := make([]int, len(length))
	for set := range best {
		best[set] = rest[set]
		for part := set; part > 0; part = (part - 1) & set {
			best[set] = min(best[set], max(length[part], rest[set&^part]))
		}
	}
	return best
}

// shortestServed tries every order in which a server can load two machines.
// Loading comes first here, as published: a job goes to the machine that is
// free first, which is never worse for an order.
func shortestServed(s *outside.Server) int {
	best := math.MaxInt
	permute(upTo(len(s.Work)), 0, func(order []int) {
		server, early, late := 0, 0, 0 // when each is free
		for _, j := range order {
			server = max(server, early) + s.Loading[j]
			early, late = min(late, server+s.Work[j]), max(late, server+s.Work[j])
		}
		best = min(best, late)
	})
	return best
}
