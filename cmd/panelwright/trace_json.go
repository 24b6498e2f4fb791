package main

import (
	"panelwright/formula/date"
	"panelwright/label/market"
	"panelwright/label/record"
)

// The stable shapes of record --json and trace --json.
type (
	jsonLot struct {
		Lot     string    `json:"lot"`
		Product string    `json:"product"`
		Made    date.Date `json:"made"`
		Pieces  int       `json:"pieces"` // 0 of a mix
		Left    int       `json:"left"`
		State   string    `json:"state"`
		Trial   bool      `json:"trial,omitempty"`
		Entry   int       `json:"entry"`
	}
	jsonReceived struct {
		Material string    `json:"material"`
		Lot      string    `json:"lot"`
		On       date.Date `json:"on"`
		Supplier string    `json:"supplier,omitempty"`
		Sheet    string    `json:"sheet,omitempty"`
	}
	jsonWent struct {
		Lot     string    `json:"lot"`
		On      date.Date `json:"on"`
		Pieces  int       `json:"pieces"`
		As      string    `json:"as"`
		To      string    `json:"to,omitempty"`
		Contact string    `json:"contact,omitempty"`
	}
	jsonSum struct {
		Lots      int `json:"lots"`
		Made      int `json:"made"`
		InHand    int `json:"inHand"`
		InBoxes   int `json:"inBoxes"`
		ByName    int `json:"withShopsAndCustomers"`
		MarketDay int `json:"soldOnMarketDays"`
		Kept      int `json:"kept"`
		Destroyed int `json:"destroyed"`
		CameBack  int `json:"cameBackFromUnknown"`
	}
	jsonTrace struct {
		Title    string         `json:"title"`
		Pieces   jsonSum        `json:"pieces"` // without boxes
		Boxes    jsonSum        `json:"boxes"`  // that hold such pieces
		Received []jsonReceived `json:"received"`
		Lots     []jsonLot      `json:"lots"`
		MayHold  []jsonLot      `json:"mayHold"`
		Went     []jsonWent     `json:"went"`
		MadeOf   []jsonReceived `json:"madeOf"`
		Inside   []jsonLot      `json:"inside"`
	}
)

// stateWord says where a lot is; of a mix, that it is one.
func stateWord(led *record.Ledger, x *record.Lot) string {
	if x.IsMix() {
		return "mix"
	}
	return string(led.StateOf(x))
}

func lotsJSON(led *record.Ledger, lots []*record.Lot) []jsonLot {
	out := []jsonLot{}
	for _, x := range lots {
		out = append(out, jsonLot{x.Code, x.Product, x.On, x.Pieces, led.Left(x), stateWord(led, x), led.OnTrial(x), x.Entry.Number})
	}
	return out
}

func receivedJSON(all []*record.Receipt) []jsonReceived {
	out := []jsonReceived{}
	for _, r := range all {
		out = append(out, jsonReceived{r.Material, r.Code, r.On, r.Supplier, r.Sheet})
	}
	return out
}

func sumJSON(p record.Pieces) jsonSum {
	return jsonSum{p.Lots, p.Made, p.Left, p.Boxed, p.Went[record.Shop] + p.Went[record.Order], p.Went[record.MarketDay], p.Went[record.KeptBack], p.Went[record.Destroyed], p.Back}
}

func traceJSON(led *record.Ledger, t *followed) jsonTrace {
	out := jsonTrace{Title: t.title, Received: receivedJSON(t.out.Receipts), Lots: lotsJSON(led, t.out.Lots), MayHold: lotsJSON(led, t.suspects),
		Went: []jsonWent{}, MadeOf: []jsonReceived{}, Inside: []jsonLot{}}
	pieces, boxes := led.PiecesOf(t.out.Lots)
	out.Pieces, out.Boxes = sumJSON(pieces), sumJSON(boxes)
	for _, s := range t.out.Shipments {
		out.Went = append(out.Went, jsonWent{s.Lot, s.On, s.Pieces, string(s.Kind), s.To, s.Contact})
	}
	if t.back != nil {
		out.MadeOf = receivedJSON(t.back.Receipts)
		for _, u := range t.back.Unrecorded {
			out.MadeOf = append(out.MadeOf, jsonReceived{Material: u.Material, Lot: u.Code})
		}
		out.Inside = lotsJSON(led, t.back.Lots[1:])
	}
	return out
}

// The stable shape of complaint --json.
type (
	jsonComplaint struct {
		Complaint string      `json:"complaint"`
		On        date.Date   `json:"on"`
		Product   string      `json:"product"`
		Lot       string      `json:"lot"`
		What      string      `json:"what"`
		Serious   bool        `json:"serious"`
		Lists     []jsonList  `json:"lists"`
		Shares    []jsonShare `json:"shares"`
		Others    []jsonLot   `json:"others"`
		Tell      []jsonTell  `json:"tell"`
	}
	jsonList struct {
		Market string `json:"market"`
		Text   string `json:"text"`
	}
	jsonShare struct {
		Piece    string `json:"piece,omitempty"` // in a box
		Name     string `json:"name"`
		Typical  string `json:"typical"`
		Greatest string `json:"greatest"`
		From     string `json:"from"`
	}
	jsonTell struct {
		Market     string `json:"market"`
		Who        string `json:"who"`
		When       string `json:"when"`
		Keep       string `json:"keep,omitempty"`
		Source     string `json:"source"`
		Unverified bool   `json:"unverified"`
	}
)

func complaintJSON(led *record.Ledger, said *record.Complaint, was *inIt) jsonComplaint {
	j := jsonComplaint{said.Code, said.On, said.Product, said.Lot, said.Text, said.Serious, []jsonList{}, []jsonShare{}, lotsJSON(led, was.others), []jsonTell{}}
	for _, l := range was.lists {
		j.Lists = append(j.Lists, jsonList{l.Title, l.Text})
	}
	for _, g := range was.shares {
		for _, s := range g.Rows {
			j.Shares = append(j.Shares, jsonShare{g.Title, s.Name, s.Typical, s.Greatest, s.From})
		}
	}
	for _, m := range was.markets {
		t := market.Tell(m)
		j.Tell = append(j.Tell, jsonTell{string(m), t.Who, t.When, t.Keep, t.Source.String(), t.Source.Unverified()})
	}
	return j
}
