package main

// sheetJSON is a sheet as JSON.
type sheetJSON struct {
	Kind      string          `json:"kind"`
	Because   string          `json:"because"`
	Lines     []sheetLineJSON `json:"lines"`
	Figures   []figureJSON    `json:"figures"`
	Limits    []useLimitJSON  `json:"use_limits"`
	Ref       string          `json:"ref"`
	Date      string          `json:"date"`
	Covers    []string        `json:"covers"`
	Lacking   []string        `json:"lacking"`
	Questions []askedJSON     `json:"questions"`
	Document  string          `json:"document"`
}

type sheetLineJSON struct {
	Line       int    `json:"line"`
	Pasted     string `json:"pasted"`
	Is         string `json:"is"`
	Understood string `json:"understood"`
}

type figureJSON struct {
	Lines  []int  `json:"lines"`
	Found  string `json:"found"`
	Name   string `json:"name"`
	Number string `json:"number"`
	Share  string `json:"share"`
}

type useLimitJSON struct {
	Line     int    `json:"line"`
	Category string `json:"category"`
	Share    string `json:"share"`
}

type askedJSON struct {
	Lines []int  `json:"lines"`
	Read  string `json:"read"`
	Wrong string `json:"wrong"`
	Cure  string `json:"cure"`
}

func (j *sheetJob) printJSON() error {
	s := j.s
	x := sheetJSON{Kind: s.As.String(), Because: s.Because, Lines: []sheetLineJSON{}, Figures: []figureJSON{}, Limits: []useLimitJSON{}, Ref: s.Ref,
		Date: s.Date.String(), Covers: []string{}, Lacking: append([]string{}, s.Lacking...), Questions: []askedJSON{}, Document: string(j.yaml)}
	for _, l := range s.Lines {
		x.Lines = append(x.Lines, sheetLineJSON{l.Number, l.Text, l.Is.String(), l.Understood()})
	}
	for _, f := range s.Figures {
		x.Figures = append(x.Figures, figureJSON{f.Lines, f.Found, f.Name, f.Number, f.Text})
	}
	for _, l := range s.Limits {
		x.Limits = append(x.Limits, useLimitJSON{l.Line, l.Category, l.Text})
	}
	for _, l := range s.Covers {
		x.Covers = append(x.Covers, string(l))
	}
	for _, q := range s.Questions {
		x.Questions = append(x.Questions, askedJSON{append([]int{}, q.Lines...), q.Read, q.Wrong, q.Cure})
	}
	data, err := marshal(x, "")
	if err == nil {
		_, err = j.c.out.Write(append(data, '\n'))
	}
	return err
}
