package label

// BarcodeOn returns the item number that stands on a pack: its own, else the product's; "" for none. Packs that are
// traded as different goods have numbers of their own (GS1 General Specifications, one number for each trade item;
// from memory). k may be nil, for the product alone.
func (p *Product) BarcodeOn(k *Pack) string {
	if k != nil && k.Barcode != "" {
		return k.Barcode
	}
	return p.Barcode
}

// LinkOn returns the web address that stands on a pack: its own, else the product's; "" for none.
func (p *Product) LinkOn(k *Pack) string {
	if k != nil && k.Link != "" {
		return k.Link
	}
	return p.Link
}
