package planner_test

import "testing"

// skipWhenShort leaves out what takes long under the race detector; the same
// code runs there in other tests.
func skipWhenShort(t *testing.T) {
	t.Helper()
	if testing.Short() {
		t.Skip("takes long; run without -short")
	}
}
