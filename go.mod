module panelwright

go 1.26.0

require (
	github.com/boombuler/barcode v1.1.0
	github.com/go-pdf/fpdf v0.9.0
	github.com/go-text/typesetting v0.3.5
	github.com/google/go-cmp v0.7.0
	github.com/rogpeppe/go-internal v1.14.1
	github.com/shopspring/decimal v1.4.0
	gopkg.in/yaml.v3 v3.0.1
	pgregory.net/rapid v1.3.0
)

require (
	golang.org/x/image v0.23.0 // indirect
	golang.org/x/sys v0.26.0 // indirect
	golang.org/x/tools v0.26.0 // indirect
)
