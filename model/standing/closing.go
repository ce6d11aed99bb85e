package standing

import "padturn/model"

// HooksAtClose lists what a bay has on its connections beside what is plumbed,
// as the next opening finds it: an empty container counts as taken off.
func (s *Standing) HooksAtClose(bay int) []string {
	var list []string
	for _, h := range s.Bays[bay].On[len(s.Day.Settings.Pad.Bays[bay].Plumbed):] {
		if h.Product != "" && (h.Left == nil || *h.Left > slack) {
			list = append(list, h.Product)
		}
	}
	return list
}

// Closing is the stock as the next day's file has to have it, so that at the
// opening every container hangs where it hangs now: what hangs comes first, bay
// by bay, as opened ones, even where nothing was drawn from them; then the other
// opened ones, then the full ones. A product with none left keeps a row.
func (s *Standing) Closing() []model.StockRow {
	var rows []model.StockRow
	for i, t := range s.pad.stores {
		name := s.Problem.Products[i].Name
		var hanging []model.StockRow
		rest := store{kind: t.kind, size: t.size, lots: t.lots}
		for b := range s.pad.bays {
			for _, h := range s.pad.bays[b].on {
				if h.product == i && h.tote != nil && h.tote.left > slack {
					hanging = append(hanging, model.StockRow{Product: name, Container: h.tote.kind, Size: h.tote.size, Open: model.Some(h.tote.left)})
				}
			}
		}
		for _, c := range t.containers {
			if !c.hanging {
				rest.containers = append(rest.containers, c)
			}
		}
		if others := rest.rows(name); len(hanging) == 0 || len(others) > 0 && (others[0].Full > 0 || others[0].Open != nil) {
			hanging = append(hanging, others...)
		}
		rows = append(rows, hanging...)
	}
	return rows
}
