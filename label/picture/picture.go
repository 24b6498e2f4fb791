// Package picture reads the pictures a maker puts on a label: PNG and JPEG files, and drawings in the part of SVG
// that logos are made of.
//
//	p, err := picture.Read("logo.svg", data)
//	items := p.In(box) // as large as fits in the box, in its middle
//
// A drawing stays a drawing: its paths print sharp at any size, in the inks nearest to its colours by the
// plain formula. A picture made of dots is embedded as it is; Density says how fine it will print.
package picture

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"image"
	"path"
	"strings"

	_ "image/jpeg"
	_ "image/png"

	"panelwright/label/scene"
)

// Picture is a picture that was read and checked.
type Picture struct {
	Name string
	W, H int64 // proportions: dots of a picture, ten-thousandths of a unit of a drawing

	format string // "png", "jpeg", or "" for a drawing
	data   []byte
	key    string // unique to the data
	paths  []scene.Path
	corner scene.Point // top left of the frame of a drawing
}

// Bounds of what is accepted.
const (
	mostBytes = 8 << 20
	mostDots  = 12_000_000 // 3000 x 4000: a page of A5 at 500 dots an inch
)

// Read reads a picture file; its name says the kind. The error says what it is that cannot be printed.
func Read(name string, data []byte) (*Picture, error) {
	if len(data) > mostBytes {
		return nil, fmt.Errorf("%s has %d MB, more than the %d MB a picture may have; save it smaller", name, len(data)>>20, mostBytes>>20)
	}
	p := &Picture{Name: name, data: data}
	sum := sha256.Sum256(data)
	p.key = path.Base(name) + " " + hex.EncodeToString(sum[:8])
	var err error
	switch strings.ToLower(path.Ext(name)) {
	case ".svg":
		if err := p.drawing(); err != nil {
			return nil, err
		}
	case ".png", ".jpg", ".jpeg":
		err = p.dots()
	default:
		err = fmt.Errorf("is not a kind of picture that can be printed; save it as PNG, JPEG or SVG")
	}
	if err != nil {
		return nil, fmt.Errorf("%s %w", name, err)
	}
	return p, nil
}

// dots reads the head of a PNG or JPEG file, and decodes it once, so that a broken file is found here.
func (p *Picture) dots() error {
	c, format, err := image.DecodeConfig(bytes.NewReader(p.data))
	if err != nil {
		return fmt.Errorf("cannot be read as a picture: %w", err)
	}
	if c.Width < 1 || c.Height < 1 || c.Width > mostDots/c.Height {
		return fmt.Errorf("is %d x %d dots large; at most %d million are printed; save it smaller", c.Width, c.Height, mostDots/1_000_000)
	}
	if format == "png" {
		// The signature and the first chunk: 8 bytes, 4 length, 4 name, then width, height, depth, colour
		// type, compression, filter, interlace (PNG specification, 11.2.2).
		const depth, interlace = 8 + 8 + 8, 8 + 8 + 12
		switch {
		case p.data[depth] == 16:
			return fmt.Errorf("has 16 bits a colour, which the PDF writer does not take; save it with 8")
		case p.data[interlace] != 0:
			return fmt.Errorf("is interlaced, which the PDF writer does not take; save it without")
		}
	}
	if _, _, err := image.Decode(bytes.NewReader(p.data)); err != nil {
		return fmt.Errorf("is broken: %w", err)
	}
	p.W, p.H, p.format = int64(c.Width), int64(c.Height), format
	return nil
}

// Fit returns the box that the picture fills in r: as large as fits, in the middle.
func (p *Picture) Fit(r scene.Rect) scene.Rect {
	w, h := r.Right-r.Left, r.Bottom-r.Top
	if high := w * scene.Um(p.H) / scene.Um(p.W); high <= h {
		r.Top += (h - high) / 2
		r.Bottom = r.Top + high
		return r
	}
	wide := h * scene.Um(p.W) / scene.Um(p.H)
	r.Left += (w - wide) / 2
	r.Right = r.Left + wide
	return r
}

// In returns the picture as it is drawn in r, see Fit.
func (p *Picture) In(r scene.Rect) []scene.Item {
	box := p.Fit(r)
	if p.format != "" {
		return []scene.Item{&scene.Image{Box: box, Format: p.format, Data: p.data, Name: p.key, Alt: p.words()}}
	}
	w, h := box.Right-box.Left, box.Bottom-box.Top
	var out []scene.Item
	for i := range p.paths {
		q := p.paths[i]
		q.Alt = p.words()
		q.Width = q.Width * w / scene.Um(p.W)
		q.Segments = append([]scene.Segment(nil), q.Segments...)
		for k := range q.Segments {
			for j, at := range q.Segments[k].P {
				q.Segments[k].P[j] = scene.Point{X: box.Left + at.X*w/scene.Um(p.W), Y: box.Top + at.Y*h/scene.Um(p.H)}
			}
		}
		out = append(out, &q)
	}
	return out
}

// words returns the name of the file without its ending, which is all that is known of what the picture shows.
func (p *Picture) words() string {
	return strings.TrimSuffix(path.Base(p.Name), path.Ext(p.Name))
}

// Density returns how many dots an inch a picture has at a printed width; 0 for a drawing.
func (p *Picture) Density(width scene.Um) int64 {
	if p.format == "" || width <= 0 {
		return 0
	}
	return p.W * int64(scene.Inch) / int64(width)
}
