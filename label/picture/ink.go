package picture

import (
	"fmt"
	"strconv"
	"strings"

	"panelwright/label/scene"
)

// names are the colours that drawings call by name: the basic sixteen of the web, and grey spelled both ways.
var names = map[string]string{"black": "#000000", "white": "#ffffff", "currentcolor": "#000000", "red": "#ff0000", "green": "#008000",
	"blue": "#0000ff", "grey": "#808080", "gray": "#808080", "silver": "#c0c0c0", "maroon": "#800000", "yellow": "#ffff00", "olive": "#808000",
	"lime": "#00ff00", "aqua": "#00ffff", "teal": "#008080", "navy": "#000080", "fuchsia": "#ff00ff", "purple": "#800080"}

// Ink reads a colour: inks in percent such as "C20 M0 Y60 K10", or a screen colour such as "#88aa66". A screen
// colour becomes inks by the plain formula, black first; what is printed looks different from what a screen
// shows. "none" gives nil.
func Ink(s string) (*scene.Ink, error) {
	low := strings.ToLower(strings.TrimSpace(s))
	if low == "none" || low == "transparent" {
		return nil, nil
	}
	if n, ok := names[low]; ok {
		low = n
	}
	if inside, ok := strings.CutPrefix(low, "rgb("); ok {
		hex, err := threefold(strings.TrimSuffix(inside, ")"))
		if err != nil {
			return nil, fmt.Errorf("%q is no screen colour: %w", s, err)
		}
		low = hex
	}
	if hex, ok := strings.CutPrefix(low, "#"); ok {
		return screen(hex, s)
	}
	var ink scene.Ink
	inks := map[byte]*uint8{'c': &ink.C, 'm': &ink.M, 'y': &ink.Y, 'k': &ink.K}
	fields := strings.Fields(strings.ReplaceAll(low, ",", " "))
	for _, f := range fields {
		to := inks[f[0]]
		v, err := strconv.Atoi(strings.TrimSuffix(f[1:], "%"))
		if to == nil || err != nil || v < 0 || v > 100 {
			return nil, fmt.Errorf("%q is no colour; write inks in percent, as in C20 M0 Y60 K10, or a screen colour, as in \"#88aa66\"", s)
		}
		*to = uint8(v)
		delete(inks, f[0])
	}
	if len(fields) == 0 {
		return nil, fmt.Errorf("no colour is written; write inks in percent, as in C20 M0 Y60 K10")
	}
	return &ink, nil
}

// threefold turns red, green and blue, from 0 to 255 or in percent, into the six digits of a screen colour.
func threefold(inside string) (string, error) {
	hex := "#"
	parts := strings.FieldsFunc(inside, func(r rune) bool { return r == ',' || r == ' ' })
	for _, p := range parts {
		number, percent := strings.CutSuffix(p, "%")
		v, err := strconv.ParseFloat(number, 64)
		if percent {
			v = v * 255 / 100
		}
		if err != nil || !(v >= 0 && v <= 255) {
			return "", fmt.Errorf("%q is not from 0 to 255", p)
		}
		hex += fmt.Sprintf("%02x", int(v+0.5))
	}
	if len(parts) != 3 {
		return "", fmt.Errorf("it has %d parts instead of three", len(parts))
	}
	return hex, nil
}

// screen turns a screen colour into inks: as much black as is in all three, the rest in colours.
func screen(hex, s string) (*scene.Ink, error) {
	if len(hex) == 3 {
		hex = string([]byte{hex[0], hex[0], hex[1], hex[1], hex[2], hex[2]})
	}
	v, err := strconv.ParseUint(hex, 16, 32)
	if err != nil || len(hex) != 6 {
		return nil, fmt.Errorf("%q is no screen colour; write six digits, as in \"#88aa66\"", s)
	}
	r, g, b := int(v>>16), int(v>>8&255), int(v&255)
	most := max(r, g, b)
	if most == 0 {
		return &scene.Ink{K: 100}, nil
	}
	part := func(c int) uint8 { return uint8((200*(most-c) + most) / (2 * most)) }
	return &scene.Ink{C: part(r), M: part(g), Y: part(b), K: uint8((200*(255-most) + 255) / (2 * 255))}, nil
}
