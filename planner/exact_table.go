package planner

// keyTable numbers keys in the order they come: an open-addressing hash table,
// since a search looks up tens of millions.
type keyTable struct {
	slots []int32 // number + 1; 0 where empty
	keys  []uint64
}

func (t *keyTable) find(key uint64) int32 {
	if len(t.slots) == 0 {
		return -1
	}
	for i := t.home(key); ; i = (i + 1) & (len(t.slots) - 1) {
		n := t.slots[i] - 1
		if n < 0 || t.keys[n] == key {
			return n
		}
	}
}

// add returns the number of a key, and whether it is new.
func (t *keyTable) add(key uint64) (int32, bool) {
	if 2*len(t.keys) >= len(t.slots) {
		t.grow()
	}
	i := t.home(key)
	for ; t.slots[i] != 0; i = (i + 1) & (len(t.slots) - 1) {
		if t.keys[t.slots[i]-1] == key {
			return t.slots[i] - 1, false
		}
	}
	t.keys = append(t.keys, key)
	t.slots[i] = int32(len(t.keys))
	return t.slots[i] - 1, true
}

func (t *keyTable) home(key uint64) int {
	key *= 0x9E3779B97F4A7C15
	return int((key ^ key>>29) & uint64(len(t.slots)-1))
}

func (t *keyTable) grow() {
	t.slots = make([]int32, max(2*len(t.slots), 64))
	for n, key := range t.keys {
		i := t.home(key)
		for t.slots[i] != 0 {
			i = (i + 1) & (len(t.slots) - 1)
		}
		t.slots[i] = int32(n) + 1
	}
}
