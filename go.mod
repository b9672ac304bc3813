module ohmwright

go 1.26.0

require (
	github.com/hack-pad/safejs v0.1.0
	github.com/santhosh-tekuri/jsonschema/v6 v6.0.3
	github.com/stretchr/testify v1.12.1
	github.com/syumai/workers v0.31.0
	golang.org/x/text v0.44.0
)

require go.yaml.in/yaml/v3 v3.0.5 // indirect

tool github.com/syumai/workers/cmd/workers-assets-gen
