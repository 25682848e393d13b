package db

import (
	"bytes"
	"encoding/binary"
	"errors"
	"io/fs"
	"maps"
	"os"
	"slices"
)

// Rows are read here page by page and without SQLite, which finds none of them
// when a page that leads to them is damaged. The layout is SQLite's file format
// (sqlite.org/fileformat2.html, from memory).

// pageSize is what SQLite gives every file that this program made, in bytes.
const pageSize = 4096

// pages are the pages of a file, the first being 1, and newer ones of its log.
type pages struct {
	file   []byte
	logged map[int][]byte
}

// readPages reads the file at path and the log beside it.
func readPages(path string) (p pages, err error) {
	p.logged = map[int][]byte{}
	if p.file, err = os.ReadFile(path); err != nil && !logged(path) {
		return p, err
	}
	log, err := os.ReadFile(path + "-wal")
	if errors.Is(err, fs.ErrNotExist) {
		return p, nil
	}
	p.readLog(log)
	return p, err
}

// readLog takes the pages of every transaction that is whole in the log: the
// sums of its frames are right, and the last of them ends a transaction.
func (p pages) readLog(log []byte) {
	const head, frameHead = 32, 24
	if len(log) < head {
		return
	}
	sum := checksum(log[3]&1 == 1, [2]uint32{}, log[:24])
	open := map[int][]byte{}
	for frame := log[head:]; len(frame) >= frameHead+pageSize; frame = frame[frameHead+pageSize:] {
		page := frame[frameHead : frameHead+pageSize]
		sum = checksum(log[3]&1 == 1, checksum(log[3]&1 == 1, sum, frame[:8]), page)
		salted := bytes.Equal(frame[8:16], log[16:24])
		if !salted || number(frame[16:]) != int(sum[0]) || number(frame[20:]) != int(sum[1]) {
			return
		}
		open[number(frame)] = page
		if ends := number(frame[4:]) != 0; ends {
			maps.Copy(p.logged, open)
			clear(open)
		}
	}
}

// checksum goes on with the sum of a log.
func checksum(bigEndian bool, sum [2]uint32, text []byte) [2]uint32 {
	word := binary.LittleEndian.Uint32
	if bigEndian {
		word = binary.BigEndian.Uint32
	}
	for ; len(text) >= 8; text = text[8:] {
		sum[0] += word(text) + sum[1]
		sum[1] += word(text[4:]) + sum[0]
	}
	return sum
}

// number reads the number in the first four bytes.
func number(b []byte) int { return int(binary.BigEndian.Uint32(b)) }

func (p pages) count() int {
	return max(len(p.file)/pageSize, slices.Max(append(slices.Collect(maps.Keys(p.logged)), 0)))
}

// page returns the nth page, or nil.
func (p pages) page(n int) []byte {
	if page, ok := p.logged[n]; ok {
		return page
	}
	if n < 1 || n > len(p.file)/pageSize {
		return nil
	}
	return p.file[(n-1)*pageSize : n*pageSize]
}

// free returns the pages that hold nothing any more, but what they held once. It
// is a chain of pages that list them, and breaks off where one is damaged.
func (p pages) free() map[int]bool {
	free := map[int]bool{}
	first := p.page(1)
	if !bytes.HasPrefix(first, sqliteHead) {
		return free
	}
	for n := number(first[32:]); p.page(n) != nil && !free[n]; {
		page := p.page(n)
		listed := number(page[4:])
		if listed > pageSize/4-2 {
			return free
		}
		free[n] = true
		for i := range listed {
			free[number(page[8+4*i:])] = true
		}
		n = number(page)
	}
	return free
}

// A row is what a cell holds, of a table or of an index.
type row struct {
	table  bool
	id     int64 // of a table's
	values []any // nil, int64 or string; other values are nil; those that are lost are missing at the end
}

// The kinds of pages that hold rows, and the one that only leads to others.
const (
	innerIndexPage = 2
	innerTablePage = 5
	indexPage      = 10
	tablePage      = 13
)

// rows calls do with each row that can be read, and returns how many pages are
// known to be lost, in whole or in part: others lead to them, or the header counts
// them, but they are not there or do not read.
func (p pages) rows(do func(row)) int {
	free := p.free()
	lost := map[int]bool{}
	leads := func(n int) {
		page := p.page(n)
		if !free[n] && (page == nil || !slices.Contains([]byte{innerIndexPage, innerTablePage, indexPage, tablePage}, page[0])) {
			lost[n] = true
		}
	}
	if first := p.page(1); bytes.HasPrefix(first, sqliteHead) {
		for n := p.count() + 1; n <= number(first[28:]) && len(lost) <= mostProblems; n++ {
			leads(n)
		}
	}
	for n := range p.count() + 1 {
		page := p.page(n)
		head := page
		if n == 1 && len(page) > 100 {
			head = page[100:]
		}
		if len(page) == 0 || free[n] || !slices.Contains([]byte{innerIndexPage, innerTablePage, indexPage, tablePage}, head[0]) {
			continue
		}
		kind, cells := head[0], head[8:]
		inner := kind == innerIndexPage || kind == innerTablePage
		if inner {
			cells = head[12:]
			leads(number(head[8:]))
		}
		for i := 0; i < int(binary.BigEndian.Uint16(head[3:])) && len(cells) >= 2*i+2; i++ {
			at := int(binary.BigEndian.Uint16(cells[2*i:]))
			if at > pageSize-4 {
				lost[n] = true
				continue
			}
			cell := page[at:]
			if inner {
				leads(number(cell))
				cell = cell[4:] // the page of what comes before
			}
			if kind == innerTablePage {
				continue
			}
			r := p.row(kind, cell)
			if len(r.values) == 0 {
				lost[n] = true
				continue
			}
			if root := int(r.int(3)); n == 1 && r.holds("ttti") && root > 0 {
				leads(root)
			}
			do(r)
		}
	}
	return len(lost)
}

func (p pages) row(kind byte, cell []byte) (r row) {
	size, cell := varint(cell)
	if r.table = kind == tablePage; r.table {
		r.id, cell = varint(cell)
	}
	r.values = values(p.payload(cell, size))
	return r
}

// payload returns the first size bytes that a cell holds, here and on further
// pages, or less where one of those is missing. Keys of indexes, which would be
// cut elsewhere, are never so long.
func (p pages) payload(cell []byte, size int64) []byte {
	const most, least, further, longest = pageSize - 35, (pageSize-12)*32/255 - 23, pageSize - 4, 128 << 10
	if size <= most || size > longest {
		return cell[:max(0, min(size, int64(len(cell))))]
	}
	here := least + (size-least)%further
	if here > most {
		here = least
	}
	if int64(len(cell)) < here+4 {
		return nil
	}
	all := slices.Clone(cell[:here])
	for next := p.page(number(cell[here:])); next != nil && int64(len(all)) < size; next = p.page(number(next)) {
		all = append(all, next[4:]...)
	}
	return all[:min(size, int64(len(all)))]
}

// values reads a record: the length of its head, a number for the type of each
// value, and the values.
func values(record []byte) (all []any) {
	length, _ := varint(record)
	if length < 1 || length > int64(len(record)) {
		return nil
	}
	head, body := record[:length], record[length:]
	_, head = varint(head)
	for len(head) > 0 {
		var kind int64
		kind, head = varint(head)
		size := int64(0)
		switch {
		case kind < 0:
			return all
		case kind < 10:
			size = []int64{0, 1, 2, 3, 4, 6, 8, 8, 0, 0}[kind]
		case kind >= 12:
			size = (kind - 12) / 2
		}
		if size > int64(len(body)) {
			return all
		}
		all = append(all, value(kind, body[:size]))
		body = body[size:]
	}
	return all
}

func value(kind int64, body []byte) any {
	switch {
	case kind >= 1 && kind <= 6:
		n := int64(int8(body[0]))
		for _, b := range body[1:] {
			n = n<<8 | int64(b)
		}
		return n
	case kind == 8 || kind == 9:
		return kind - 8
	case kind >= 13 && kind%2 == 1:
		return string(body)
	}
	return nil
}

// varint reads a number of one to nine bytes, and returns what comes after it:
// nothing when it is cut off.
func varint(b []byte) (n int64, rest []byte) {
	for i, c := range b {
		if i == 8 {
			return n<<8 | int64(c), b[9:]
		}
		n = n<<7 | int64(c&0x7f)
		if c < 0x80 {
			return n, b[i+1:]
		}
	}
	return 0, nil
}

// holds reports whether the row begins with values of those sorts: i whole
// numbers, t texts; with capitals NULL may stand in their place.
func (r row) holds(sorts string) bool {
	if len(r.values) < len(sorts) {
		return false
	}
	for i, sort := range sorts {
		ok := false
		switch r.values[i].(type) {
		case int64:
			ok = sort == 'i' || sort == 'I'
		case string:
			ok = sort == 't' || sort == 'T'
		case nil:
			ok = sort == 'I' || sort == 'T'
		}
		if !ok {
			return false
		}
	}
	return true
}

// int returns the ith value, or 0 when that is no whole number or is missing.
func (r row) int(i int) int64 {
	if i < len(r.values) {
		n, _ := r.values[i].(int64)
		return n
	}
	return 0
}

// text returns the ith value, or "" when that is no text or is missing.
func (r row) text(i int) string {
	if i < len(r.values) {
		text, _ := r.values[i].(string)
		return text
	}
	return ""
}
