package record

import "panelwright/formula/date"

// On returns the day that an entry tells of; 0 where it names none.
func (e *Entry) On() date.Date {
	switch x := e.What.(type) {
	case *Receipt:
		return x.On
	case *Lot:
		return x.On
	case *Status:
		return x.On
	case *Shipment:
		return x.On
	case *Approval:
		return x.On
	case *Printing:
		return x.On
	case *Count:
		return x.On
	case *Complaint:
		return x.On
	case *Statement:
		return x.On
	case *Withdrawal:
		return x.On
	}
	return 0
}

// kind is the word an entry begins with.
func (e *Entry) kind() string {
	switch e.What.(type) {
	case *Receipt:
		return "received"
	case *Lot:
		return "made"
	case *Status:
		return "lot"
	case *Shipment:
		return "went"
	case *Approval:
		return "approved"
	case *Printing:
		return "printed"
	case *Count:
		return "labels"
	case *Complaint:
		return "complaint"
	case *Statement:
		return "statement"
	case *Withdrawal:
		return "withdrawn"
	}
	return ""
}
