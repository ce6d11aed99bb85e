package planfile

import (
	"bytes"
	"encoding/json"
	"strconv"
)

// locate returns where in sound JSON the value at the path begins; a path that
// leads nowhere ends at the last value it reaches.
func locate(data []byte, path []string) int64 {
	dec := json.NewDecoder(bytes.NewReader(data))
	for _, step := range path {
		if !enter(dec, step) {
			break
		}
	}
	at := dec.InputOffset()
	for at < int64(len(data)) && bytes.IndexByte([]byte(" \t\r\n:,"), data[at]) >= 0 {
		at++
	}
	return at
}

// enter moves to just before a member of the object, or an element of the
// array, that comes next.
func enter(dec *json.Decoder, step string) bool {
	token, err := dec.Token()
	if err != nil {
		return false
	}
	switch token {
	case json.Delim('{'):
		return enterMember(dec, step)
	case json.Delim('['):
		index, err := strconv.Atoi(step)
		return err == nil && skip(dec, index)
	}
	return false
}

func enterMember(dec *json.Decoder, name string) bool {
	for dec.More() {
		if key, err := dec.Token(); err != nil || key == name {
			return err == nil
		}
		if !skip(dec, 1) {
			return false
		}
	}
	return false
}

// skip passes over that many values.
func skip(dec *json.Decoder, values int) bool {
	for range values {
		var passed json.RawMessage
		if !dec.More() || dec.Decode(&passed) != nil {
			return false
		}
	}
	return dec.More()
}
