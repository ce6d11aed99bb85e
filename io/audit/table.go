package audit

import (
	"bytes"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"math/big"
	"regexp"
	"strconv"
	"strings"

	"padturn/model"
)

// columns are the header rows of the files, word for word.
var columns = map[string]string{
	"loads.csv":       "bay,seq,load,sprayer,mix,jobs,gal,carrier_gal,ready,setup_start,start,end,wait_min,held_min,cleanout,rinse,changeovers,back_at,run",
	"amounts.csv":     "load,step,product,amount,unit,how",
	"connections.csv": "bay,connection,at,off,on,load",
	"stock.csv":       "product,at,event,change,level,low",
	"water.csv":       "at,event,water_gal,rinsate_gal",
	"turns.csv":       "sprayer,load,what,from,to",
	"unsprayed.csv":   "job,acres,reason",
	"cost.csv":        "part,amount,dollars",
}

// row is a line of a file. Its readers note what can't be read and return
// something harmless; bad says that one of them did.
type row struct {
	a     *audit
	file  string
	line  int
	cells map[string]string
	bad   bool
}

// rows reads a file. A file that is missing or has another header is a breach
// and has no rows.
func (a *audit) rows(file string) []*row {
	content, ok := a.files[file]
	if !ok {
		a.breach("files", file, "is missing")
		return nil
	}
	header := columns[file]
	names := strings.Split(header, ",")
	reader := csv.NewReader(bytes.NewReader(content))
	reader.FieldsPerRecord = len(names)
	first, err := reader.Read()
	if err != nil || strings.Join(first, ",") != header {
		a.breach("files", file+":1", "the header is %q, expected %q", strings.Join(first, ","), header)
		return nil
	}
	var list []*row
	for {
		record, err := reader.Read()
		if errors.Is(err, io.EOF) {
			return list
		}
		if err != nil {
			a.breach("files", file, "%s", err)
			return list
		}
		line, _ := reader.FieldPos(0)
		r := &row{a: a, file: file, line: line, cells: map[string]string{}}
		for i, name := range names {
			r.cells[name] = record[i]
		}
		list = append(list, r)
	}
}

// where says which line it is.
func (r *row) where() string { return fmt.Sprintf("%s:%d", r.file, r.line) }

// wrong notes a cell that can't be read.
func (r *row) wrong(column, want string) {
	r.bad = true
	r.a.breach("files", r.where(), "%s is %q, expected %s", column, r.cells[column], want)
}

func (r *row) text(column string) string { return r.cells[column] }

var (
	plainNumber = regexp.MustCompile(`^-?[0-9]{1,12}(\.[0-9]{1,12})?$`)
	plainClock  = regexp.MustCompile(`^([0-9]{2}):([0-5][0-9]):([0-5][0-9])(\+[1-9])?$`)
)

// number reads plain digits with one point at most.
func (r *row) number(column string) *big.Rat {
	if n, ok := parseNumber(r.cells[column]); ok {
		return n
	}
	r.wrong(column, "a number")
	return new(big.Rat)
}

func parseNumber(s string) (*big.Rat, bool) {
	if !plainNumber.MatchString(s) {
		return nil, false
	}
	return new(big.Rat).SetString(s)
}

// optional reads a number that may be blank.
func (r *row) optional(column string) *big.Rat {
	if r.cells[column] == "" {
		return nil
	}
	return r.number(column)
}

// count reads a whole number of at least least.
func (r *row) count(column string, least int) int {
	n, err := strconv.Atoi(r.cells[column])
	if err != nil || n < least || n > 1_000_000 {
		r.wrong(column, fmt.Sprintf("a whole number from %d up", least))
		return least
	}
	return n
}

// clock reads HH:MM:SS, with +1 and so on after midnight.
func (r *row) clock(column string) model.Clock {
	part := plainClock.FindStringSubmatch(r.cells[column])
	if part == nil || part[1] > "23" {
		r.wrong(column, "a moment such as 07:30:00 or 00:15:00+1")
		return 0
	}
	var t, days int64
	for _, digits := range part[1:4] {
		n, _ := strconv.ParseInt(digits, 10, 64) // matched: two digits
		t = t*60 + n
	}
	if part[4] != "" {
		days, _ = strconv.ParseInt(part[4][1:], 10, 64) // matched: one digit
	}
	return model.Clock(t + days*24*3600)
}

// find looks a cell up among the names of the day or of the plan.
func find[T any](r *row, column string, among map[string]T) T {
	value, ok := among[r.cells[column]]
	if !ok {
		r.wrong(column, "a name of the day or the plan")
	}
	return value
}
