package model

import (
	"math/big"
	"slices"
)

// blend is a mix at a volume rate: what an acre of spray takes, exactly.
type blend struct {
	liquid  *big.Rat // gal of products
	carrier *big.Rat // gal
	doses   []blendDose
}

type blendDose struct {
	amount *big.Rat // stock unit an acre
	gal    *big.Rat // gal an acre; 0 for dry products
	lb     *big.Rat // lb an acre; nil where not known
}

// blend works out a mix at gpa gal/ac. Units that do not convert, which
// NewProblem has reported, count as nothing.
func (p *Problem) blend(mix int, gpa Decimal) *blend {
	b := &blend{liquid: new(big.Rat)}
	for _, g := range p.Mixes[mix].Recipe {
		product := &p.Products[g.Product]
		rate := new(big.Rat).Mul(g.Rate.Rat(), g.Unit.Factor)
		if g.Unit.Base != PerAcre {
			rate.Mul(rate, gpa.Rat())
		}
		d := blendDose{amount: converted(rate, g.Unit.Unit, product.Unit, product), gal: new(big.Rat)}
		if !product.Form.Dry {
			d.gal = converted(rate, g.Unit.Unit, mustUnit("gal"), product)
		}
		if _, err := Convert(g.Unit.Unit, mustUnit("lb"), product.Density); err == nil {
			d.lb = converted(rate, g.Unit.Unit, mustUnit("lb"), product)
		}
		b.liquid.Add(b.liquid, d.gal)
		b.doses = append(b.doses, d)
	}
	b.carrier = new(big.Rat).Sub(gpa.Rat(), b.liquid)
	return b
}

func converted(rate *big.Rat, from, to Unit, product *Product) *big.Rat {
	per, err := Convert(from, to, product.Density)
	if err != nil {
		return new(big.Rat)
	}
	return per.Mul(per, rate)
}

// LoadCount returns how many loads a run of acres at gpa takes with a tank:
// ⌈acres × gpa ÷ tank⌉, exactly.
func LoadCount(acres, gpa, tankGal Decimal) int { return loadCount(acres.Rat(), gpa, tankGal) }

func loadCount(acres *big.Rat, gpa, tankGal Decimal) int {
	volume := new(big.Rat).Mul(acres, gpa.Rat())
	return int(ceil(volume.Quo(volume, tankGal.Rat())))
}

// LoadCount returns how many loads a job takes by itself with a sprayer's tank.
func (p *Problem) LoadCount(sprayer, job int) int {
	j := &p.Jobs[job]
	return p.loadCount(j.acres(), j.GPA, sprayer)
}

// restSlack is how many acres of a rest are none: the acres of its jobs are known
// to a few billionths only.
var restSlack = big.NewRat(8, int64(One))

func (p *Problem) loadCount(acres *big.Rat, gpa Decimal, sprayer int) int {
	if p.Underway != nil && acres.Cmp(restSlack) > 0 {
		acres = new(big.Rat).Sub(acres, restSlack)
	}
	return loadCount(acres, gpa, p.Sprayers[sprayer].TankGal)
}

// acres returns a job's acres exactly.
func (j *Job) acres() *big.Rat {
	if j.rest != nil {
		return j.rest
	}
	return j.Acres.Rat()
}

// RunLoads splits a run of jobs on a sprayer into its loads (R1-R4), exactly.
// All jobs must have the same mix and gpa; sprayer is the one that does them,
// whether the jobs name it or not.
func (p *Problem) RunLoads(sprayer int, jobs []int) []Load {
	first := &p.Jobs[jobs[0]]
	run := runSplit{p: p, sprayer: sprayer, jobs: slices.Clone(jobs), blend: p.blend(first.Mix, first.GPA)}
	total := new(big.Rat)
	for _, j := range jobs {
		total = new(big.Rat).Add(total, p.Jobs[j].acres())
		run.ends = append(run.ends, total)
	}
	n := p.loadCount(total, first.GPA, sprayer)
	loads := make([]Load, n)
	from := new(big.Rat)
	for k := range loads {
		to := run.boundary(k+1, n)
		loads[k] = run.load(from, to)
		from = to
	}
	return loads
}

// runSplit is a run being cut into loads; positions are acres from its start.
type runSplit struct {
	p       *Problem
	sprayer int
	jobs    []int
	ends    []*big.Rat // where each job ends
	blend   *blend
}

// boundary returns where load k of n ends. In a rest, whose acres are known to a
// few billionths, that is where a job ends if it is no further off.
func (r *runSplit) boundary(k, n int) *big.Rat {
	at := r.share(k, n)
	if r.p.Underway == nil {
		return at
	}
	for _, end := range r.ends {
		off := new(big.Rat).Sub(end, at)
		if off.Abs(off).Cmp(restSlack) <= 0 {
			return end
		}
	}
	return at
}

// share returns what the first k of n loads take of the run.
func (r *runSplit) share(k, n int) *big.Rat {
	total := r.ends[len(r.ends)-1]
	if k == n {
		return total
	}
	if r.p.Settings.Split == "full_first" {
		full := new(big.Rat).Quo(r.p.Sprayers[r.sprayer].TankGal.Rat(), r.p.Jobs[r.jobs[0]].GPA.Rat())
		return full.Mul(full, big.NewRat(int64(k), 1))
	}
	return new(big.Rat).Mul(total, big.NewRat(int64(k), int64(n)))
}

// share returns perAcre × the acres from one position to another, rounded so
// that the shares of a whole run add up to its rounded total.
func share(from, to, perAcre *big.Rat) Decimal {
	a, b := new(big.Rat).Mul(from, perAcre), new(big.Rat).Mul(to, perAcre)
	return RoundRat(b) - RoundRat(a)
}

func (r *runSplit) load(from, to *big.Rat) Load {
	first := &r.p.Jobs[r.jobs[0]]
	l := Load{Sprayer: r.sprayer, Mix: first.Mix, Run: r.jobs, Gal: share(from, to, first.GPA.Rat())}
	l.Carrier = l.Gal
	for i, d := range r.blend.doses {
		dose := Dose{Ingredient: i, Product: r.p.Mixes[l.Mix].Recipe[i].Product,
			Amount: share(from, to, d.amount), Gal: share(from, to, d.gal)}
		l.Carrier -= dose.Gal
		l.Doses = append(l.Doses, dose)
	}
	l.Carrier = max(l.Carrier, 0)
	acres := new(big.Rat).Sub(to, from)
	l.First = min(l.Carrier, RoundRat(new(big.Rat).Mul(r.p.Settings.Pad.CarrierFirst.Rat(), l.Gal.Rat())))
	l.filling = r.p.fillTime(l.Mix, acres, first.GPA, r.blend)
	l.Fill = l.filling.table(len(l.Doses) + 1)
	r.addParts(&l, from, to)
	return l
}

// addParts gives a load its jobs and drives.
func (r *runSplit) addParts(l *Load, from, to *big.Rat) {
	start := new(big.Rat)
	for i, job := range r.jobs {
		end := r.ends[i]
		a, b := ratMax(start, from), ratMin(end, to)
		if b.Cmp(a) > 0 {
			part := Part{Job: job, Acres: RoundRat(new(big.Rat).Sub(b, start)) - RoundRat(new(big.Rat).Sub(a, start))}
			part.Spray = CeilSeconds(new(big.Rat).Mul(new(big.Rat).Sub(b, a), r.p.Sprayers[r.sprayer].SecondsPerAcre))
			if n := len(l.Parts); n > 0 {
				part.Drive = driveSeconds(r.p.betweenMinutes(r.sprayer, l.Parts[n-1].Job, job))
			}
			l.Parts = append(l.Parts, part)
		}
		start = end
	}
	l.DriveOut = driveSeconds(r.p.padMinutes(r.sprayer, l.Parts[0].Job))
	l.DriveBack = driveSeconds(r.p.padMinutes(r.sprayer, l.Parts[len(l.Parts)-1].Job))
}

func ratMax(a, b *big.Rat) *big.Rat {
	if a.Cmp(b) >= 0 {
		return a
	}
	return b
}

func ratMin(a, b *big.Rat) *big.Rat {
	if a.Cmp(b) <= 0 {
		return a
	}
	return b
}

// CarrierAmount returns the carrier of a load in the stock unit of the product
// that it is; for a carrier of water, in gallons.
func (p *Problem) CarrierAmount(l *Load) Decimal {
	carrier := p.Mixes[l.Mix].Carrier
	if carrier == None {
		return l.Carrier
	}
	product := &p.Products[carrier]
	return RoundRat(converted(l.Carrier.Rat(), mustUnit("gal"), product.Unit, product))
}
