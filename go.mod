module ohmwright

go 1.26.0

require (
	github.com/hack-pad/safejs v0.1.0 // indirect
	github.com/stretchr/testify v1.12.1 // indirect
	golang.org/x/text v0.44.0 // indirect
)
