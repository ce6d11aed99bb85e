package planfile

import "padturn/model"

// containers lists what is at the pad of a product at the opening. Totes and
// drums that are alike and used one after the other share an entry.
func containers(p *model.Product) []Container {
	out := []Container{}
	apart := p.Metered && !p.Bulk
	for _, c := range p.Containers {
		next := Container{Container: c.Kind, Count: 1, Left: Number(c.Left), Opened: c.Opened}
		if apart {
			next.Size = Number(c.Size)
		}
		if last := len(out) - 1; apart && last >= 0 && alike(out[last], next) {
			out[last].Count++
			continue
		}
		out = append(out, next)
	}
	return out
}

func alike(a, b Container) bool {
	b.Count = a.Count
	return a == b
}

func (b builder) deliveries() []Delivery {
	return each(b.p.Deliveries, func(d model.Delivery) Delivery {
		return Delivery{Time(d.At), b.product(d.Product), d.Container.Kind, Number(d.Container.Size), d.Count}
	})
}
