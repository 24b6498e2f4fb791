// Package book reads a workshop's book: YAML files that say what is bought,
// mixed, made and sold. It turns names into the substances and materials that
// the other packages compute with, and decides nothing itself.
//
//	b, found := book.Load("mybook")
//	for _, f := range found {
//		fmt.Println(f.Line()) // file:line:col: what was read; what is wrong; the cure
//	}
//
// # Files and documents
//
// A book is one file, or a folder with *.yaml and *.yml files in it and in its
// subfolders. A line of --- parts documents. A document says what it is by its
// first key: workshop, material, formula, product, range, set, answer, stock
// or layout. Order does not matter; a document may use names that come later. Files
// named *.used.yaml, *.list.yaml and *.form.yaml are kept beside the book and are no part of it.
//
// Values are the text as typed: 0614 keeps its nought, 12:30 is no number of
// seconds, yes is a word, and Red #33 keeps its #, because a note needs a space
// on both sides of the #. Curly quotes round a whole value are quotes. Anchors,
// aliases, merge keys and tags are refused, and so is a key without a value.
//
// # Workshop
//
//	workshop: Fernhollow Bath Works
//	country: US                           # where the goods are made
//	sell in: [us, eu]                     # us, eu, gb, ni, ca or names; what a product does not say itself
//	eu countries: [DE, IE]                # decide the languages
//	responsible:                          # one per market
//	  us: {name: Fernhollow Bath Works, address: ["4 Mill Lane", "Exampleton, VT 05000"], contact: hello@fernhollow.example}
//	  eu: {name: Example Import, address: [Beispielweg 1, 00000 Musterstadt], country: DE, role: imported by}
//	scale: {reads: 1 g, up to: 5 kg}
//	bowl: 4 kg                            # what one bowl holds; where it is left out, what the scale holds
//	drying space: 200 pieces              # single pieces that can dry or cure at once
//
// # Material
//
//	material: alpine hay scent oil
//	inci: Parfum                          # one ingredient; or a list of names whose shares are not known
//	class: fragrance                      # as in the built-in list: oil, butter, wax, salt, colourant ...
//	allergens:                            # of which: no added mass, no sum; "none" where the sheet lists none
//	  Linalool: 4.2 %
//	  Coumarin: 0.5-1.2 %, typical 0.8 %
//	  Limonene: <0.1 %
//	  Citral: nd <10 ppm
//	covers: [eu-81]                       # which list the sheet answers in full
//	use limit: {bath: 12 %, 5A: not permitted}  # of a scent; of a base with scent in it, the scent
//	sheet: {ref: certificate 12, date: 2026-03-02, file: sheets/hay.pdf}  # and fingerprint: of the file, see panelwright sheet
//	density: 0.97 g/ml                    # or 128 g per cup, or 310 g per 2 cups
//	function: perfuming
//	declare by name: yes                  # a perfuming oil with another purpose
//	us certified: yes                     # a colour from a batch certified there
//	unlisted: yes                         # its names are not in the ingredient inventory; printed as written
//	---
//	material: meadow green cut
//	contains:                             # instead of inci; sums to 100 %
//	  Mica: 50-62 %
//	  CI 77891: 30-40 %
//	  undisclosed: rest                   # "rest" once; undisclosed is an ingredient of its own
//	---
//	material: the good soda
//	same as: baking soda                  # composition, class and density of a built-in material
//
// A fragrance without inci or contains is all Parfum, a flavour all Aroma. A
// material that says nothing of what is in it but has the name of a built-in
// one is that one. Where class is left out and the ingredient is a built-in
// material, its class is taken. The classes oil, butter, wax and fatty-acid
// count for "% of fats".
//
// # Formula
//
//	formula: melt core
//	mix:
//	  - baking soda: 10 oz                # or amount first, as on paper:  - 10 oz baking soda
//	  - corn starch: 1 1/2 cups
//	  - vitamin E: 0.5 % of fats          # % alone is of the whole mix, itself included; "% on top"; parts; rest
//	  - scent: 1.5 %                      # a slot, because some product fills one of that name
//	dries: {water: 95 %, alcohol: 100 %}  # of the free water and alcohol
//
// A formula with saponify: is turned into soap. Lye and water are worked out and
// come on top of the mix; per cents in it are of what stands there.
//
//	formula: hearth bar dough
//	mix:
//	  - olive oil: 1000 g                 # fats by name; blends with contains: are taken apart
//	  - citric acid anhydrous: 15 g       # eats lye, and lye is added for it
//	  - goat milk: 200 g
//	  - scent: 3 % of fats
//	saponify:
//	  lye: sodium hydroxide               # potassium hydroxide; {sodium hydroxide: 40 %, potassium hydroxide: 60 %},
//	                                      # shares of the fats; left out where the lye stands in the mix
//	  purity: 98-100 %                    # or {sodium hydroxide: 98 %, potassium hydroxide: 90 %}; 100 % if not stated
//	  superfat: 5 %                       # of the fats; or lye discount: 5 %
//	  water: 2 x lye                      # 33 % lye (strength of the solution), 38 % of fats, 300 g, none
//	  in place of water: [goat milk]      # comes off the water
//	  process: hot                        # or cold
//	  after cooking: [shea butter]        # hot process: goes in when no lye is left, and stays as it is
//	  cure: 28 days                       # or 4 weeks
//	  water left: 8-12 %                  # of the finished soap, as weighed; all where nothing dries off
//
// Fats and acids in a material may say what their certificate says, which goes
// before the published figure:
//
//	saponification value: 190 mg KOH/g    # or 184-196 mg KOH/g, 0.19 g KOH/g, or 0.135 g NaOH/g
//	acid value: 2 mg KOH/g                # free fatty acids: water instead of glycerin
//	sodium soap: Sodium Olivate           # and potassium soap: where the inventory has no name for it
//	form: monohydrate                     # of citric acid; anhydrous; the weaker counts if not stated
//
// A milk, a juice or beer keeps its one name; how much of it is water, which
// dries off as any other, stands in its material:
//
//	material: goat milk
//	same as: goat milk
//	water: 87 %                           # or 86-88 %
//
// What a formula is poured into gives the weight of a piece: from what a filled
// mould weighed, never from its size. The size only shares that weight out.
//
//	mould:
//	  holds: 1210 g                       # one filling, as weighed
//	  weighed: 2026-09-01
//	  slab: 250 x 90 x 60 mm              # length, width, height; or pieces: 6 where nothing is cut
//	  cut: 10 x 1                         # pieces along the length and across the width
//	  kerf: 1 mm                          # lost at each cut
//	  ends: 3 mm                          # cut off at either end, not sold
//	  planed: 1 g                         # off each piece
//	  shrinks: 2 %                        # of each length in drying, as measured; for bands
//
// A name is looked for among the maker's own materials and formulas, then the
// built-in trade materials, then the ingredient inventory. A volume is turned
// into grams by the maker's density, else by the best published one with a
// warning that says how far the published figures differ. A plain "oz" of a
// liquid is read as weight, and a question asks whether it is one: "oz wt" and
// "fl oz" do not ask.
//
// # Product
//
//	product: hay fizz
//	like: other fizz                      # has all of that product that is not written here
//	identity: {en: Bath fizz, de: Badesprudel}   # plain text is English
//	title: Hay
//	type: bath fizz                       # or several uses: [body oil, bath oil]; the strictest of each counts
//	used: [spray, near the eyes]          # what the type does not tell, see below
//	exposure: rinse-off                   # or leave-on
//	piece:                                # grams as weighed
//	  - fizz mix: 150 g
//	  - melt core: 12 g
//	slots: {scent: alpine hay scent oil, colour: meadow green cut}
//	net: 160 g
//	count: 2 bath fizzes                  # if sold as several
//	sell in: [us, eu]
//	packs:
//	  - {for: [us], label: round 64 mm, back: rectangle 60 x 40 mm, pack: ball 65 mm, lot goes: on sticker}
//	  - {for: [eu], languages: [en, de], label: band 210 x 50 mm, pack: ball 65 mm, barcode: 9520000000011}
//	function: Scents and softens the bath.
//	directions: Drop into running water.
//	cautions: [slippery tub, avoid eyes, {en: Mind the step., de: Vorsicht Stufe.}]
//	keeps: 24 months
//	opened: 12 months
//	single use: yes
//	best before: 2028-05                  # the end of that month; or a day
//	lot: "0614"
//	made in: Canada
//	claims: [Cruelty free, {en: Softens the skin, de: Macht die Haut weich}]
//	for children: yes
//	adults only: yes                      # for use exclusively by adults, and worded so on the pack
//	looks like food: no                   # or yes; where nothing is said, words such as cupcake ask
//	small parts: no                       # a toy or another small part in it
//	soap exemption: yes                   # United States only; never assumed
//	list as: out                          # a soap: out (what came out) or in (what went in), or {eu: out, us: in}
//	spares: 2 %                           # made besides; or 1 a bowl, or 3 pieces
//	dose: 2 pieces                        # in one bath, or 20 g; one piece where nothing is said
//	weights:                              # the same piece over weeks; the net must not be above the lowest
//	  - {date: 2026-10-01, grams: 165.2}
//	barcode: 9520000000004                # EAN-13, UPC-A or EAN-8; not taken over by like
//	qr: digital link                      # made of the barcode; or a web address; a pack may have both of its own
//	price: 6.50 EUR                       # on price cards
//	answers:
//	  - {rule: colour.certified, market: us, about: Yellow 5, date: 2026-11-01, reason: certificate seen} # about: where the rule asks more than once
//
// Used says how a product is used besides what its type tells. Known are spray,
// aerosol, loose powder, near the eyes, on the lips, on the face, in the mouth,
// intimate, on mucous membranes, nappy area, for children under 3 (or 6, or 10),
// for children from 3 to 10 (or from 6), professional only, self-tanning, in the
// sun and against dandruff. Limits, colours, bans of single uses and cautions
// follow; what is used near the eyes is judged for the rest of the body as well.
//
// Claims are what is said of a product besides its title, identity, function and
// directions, on the pack or in the shop. They are judged with those, and not
// printed.
//
// Labels are round or lid (one measurement), rectangle, rounded, oval, band,
// side, tag or topper (two; of a topper, those of one of its faces), folded or
// booklet (two, of one panel), or wrap (its height, or nothing): a strip round
// the pack, whose length follows from pack: and whose front is the largest face.
//
// How labels look may be said in a product, for all its packs, or in a pack:
//
//	layout: quiet                         # or block, botanical, ledger, minimal, plain, seal, or a layout of the book, see below
//	accent: C20 M0 Y60 K10                # or "#88aa66"; of the name, rules and solid areas; text stays black
//	font: fonts/mine.ttf                  # TTF or OTF, of the name; or {title: FILE, text: FILE}
//	logo: pictures/logo.svg               # PNG, JPEG, or SVG of paths and shapes in plain colours
//	material codes: [PAP 21, PET 1]       # in a plain frame
//	e-mark: yes                           # elected; not needed on a cosmetic
//	egg timer: yes                        # before the date, instead of words; taken where words in several languages do not fit, unless no
//	codes: [barcode, qr]                  # those of the pack, else of the product, printed on the label; none for a pack without
//	bleed: 2 mm                           # solid areas reach beyond the edge
//	margin: 3 mm                          # kept blank along the edge
//	if it does not fit: [narrower, back, fold, leaflet, tag, website, notice]   # some of them, tried in this order
//	corners: 4 mm                         # of a rounded label; in a pack only
//
// Of several packs each may say barcode: and qr: of its own, which go before the
// product's; packs that shops take for different goods need it, and those that
// share a number are told. A barcode too wide for its label stands upright, and
// so it does round a jar, tube or tin of small diameter.
//
// A statement goes to a fold, leaflet or tag only where the law of every market
// of the pack lets it; a note says what was done. Files are looked for in the
// book's folder.
//
// The short words for cautions are those of cautions.csv; they stand for a wording
// that exists in several languages and are kept as Wording{"phrase": id}.
//
// # Range
//
//	range: alpine fizzes
//	like: hay fizz                        # and any key of a product, for all members
//	each:
//	  - {name: hay fizz, scent: alpine hay scent oil, colour: meadow green cut}
//	  - {name: pine fizz, scent: stone pine scent oil, colour: pine cut, title: Pine}
//
// In a member, a key of a product changes that key; any other key fills a slot.
// A member with the name of the product that its range is like takes that
// product's place, and must fill its slots alike.
//
// # Set
//
//	set: winter four
//	identity: Gift box
//	holds: {hay fizz: 2, pine fizz: 2}    # or a list:  - 2 hay fizz
//	net: 640 g
//
// A set has the keys of a product except like, piece, slots, exposure, used, list as,
// dose, soap exemption, spares and weights.
//
// # Layout
//
//	layout: mine                          # named by layout: mine in a product or pack
//	align: centre
//	frame: leaves
//
// The keys are those of templates/layouts, where they are explained.
//
// # Answer
//
//	answer: colour.certified              # a document of its own instead of a line under answers:
//	product: hay fizz                     # or a list, or a range
//	market: us
//	date: 2026-11-01
//	reason: certificate seen
//
// # Stock
//
//	stock: my sheets
//	paper: A4                             # letter, A4 landscape, letter landscape, or 210 x 297 mm
//	labels: 3 x 7                         # across x down
//	size: 63.5 x 38.1 mm                  # of one label; round 40 mm; oval 60 x 40 mm
//	corner: 2 mm
//	margins: {left: 7.25 mm, top: 15.15 mm}  # or right, bottom; all four give the gaps
//	gaps: {across: 2.5 mm, down: 0 mm}    # or pitch, from edge to the same edge of the next
//	printer edge: 4 mm                    # the strip along the paper that is not printed
//	offset: {x: 0.5 mm, y: -0.3 mm}       # right and down; see panelwright calibrate
//	scale: 100.2 %                        # or {x: 100.2 %, y: 100 %}
//	turn: yes                             # labels lie turned by a quarter, as the liner runs; else only where one fits so alone
//	crop marks: yes                       # plain paper, cut along marks
//	bleed: 2 mm                           # how far the cutter may be off
//
// A stock without paper is a label printer: one label a page. Cells are counted
// from 1, row by row from the top left.
//
// # Records
//
// What happened stands in the records, a journal beside the book
// (records/journal.yaml, see package journal). Entries are written into a form
// and recorded, or said in a line:
//
//	panelwright record --form today.form.yaml    # a file of such a name is no part of the book
//	panelwright record --say "lot: 0614; state: ready"
//
// Every entry may say by:, remarks:, and corrects: with the number of an earlier
// entry and a reason:; that one stays, and the correction counts, all of it: what
// it leaves out is no longer said. on: is the day.
//
//	received: alpine hay scent oil        # a lot of a material came in
//	lot: A17
//	on: 2026-06-02
//	amount: 1 kg
//	supplier: Invented Oils
//	sheet: certificate 14                 # that came with it
//	expires: 2027-06                      # the material or its certificate
//	---
//	made: hay fizz                        # a lot of a product, or boxes of a set
//	lot: "0614"
//	on: 2026-06-14
//	pieces: 80
//	used: {alpine hay scent oil: A17, baking soda: [B3, B4]}  # of a box: {hay fizz: 0614 x 20}; of a mix: {scent blend: P1}
//	weighed: {scent: 60 g}                # what was weighed otherwise; by formula: {melt core: {cocoa butter: 90 g}}; of a soap lye: and water: too
//	batch: {fizz mix: 12 kg}              # where it is not the pieces times their grams
//	swapped: {cocoa butter: mango butter} # left out: taken instead, in this lot only; of a box, products
//	weights: 161.2 161.8 g                # of single pieces as sold: of a pack of six, all six together
//	state: curing                         # or held, ready (if nothing is said), gone
//	ready on: 2026-07-12
//	trial: yes                            # no sale labels until it is kept
//	---
//	made: scent blend                     # a formula mixed beforehand; what is made of it is judged as it was weighed
//	lot: P1
//	on: 2026-06-05
//	batch: 200 g
//	used: {orchard scent: O1, meadow scent: M1}
//	---
//	lot: "0614"                           # what became of it
//	on: 2026-07-12
//	state: ready
//	keep: yes                             # of a trial
//	weights: [161.0, 161.3]
//	---
//	went: "0614"                          # where pieces went
//	on: 2026-07-01
//	pieces: 18
//	to: Harbour Shop
//	as: shop                              # or order, market day, kept, destroyed, returned
//	contact: 0123 456
//	---
//	labels: hay fizz                      # labels counted or spoiled
//	on: 2026-07-01
//	for: [us]
//	left: 140
//	spoiled: 3
//	text: c77c3d65f2bc                    # which words; the latest printed if not said
//	---
//	complaint: C1
//	on: 2026-08-01
//	lot: "0614"                           # or product: hay fizz
//	what: red arms after a bath
//	from: a customer
//	serious: yes
//	told: {safety assessor: 2026-08-02}
//	---
//	withdrawn: 17                         # the number of an entry of what never happened, with its corrections
//	reason: recorded twice
//
// The command writes approved:, printed: and statement: itself. A lot is judged
// by the book it was made by, which is kept in records/books; approved words are
// kept in records/copy.
//
// A material whose later lots come with another sheet says so in the book:
//
//	material: alpine hay scent oil
//	allergens: {Geraniol: 0.6 %}
//	sheet: {ref: certificate 12}
//	sheets:
//	  - {from lot: A17, ref: certificate 14, allergens: {Geraniol: 0.6 %, Citronellol: 0.8 %}, covers: eu-81}
//
// from lot: is the first lot that came with it; those received later follow it.
// lots: names all of them instead. What an entry does not say is as above, but
// for allergens: and covers:, which every sheet must give.
package book
