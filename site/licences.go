package site

//go:generate go run ohmwright/cmd/licences assets/licences.txt

// Licences returns the licences of all that is shipped, as the site has them in licences.txt.
func Licences() string {
	text, err := sources.ReadFile("assets/licences.txt")
	if err != nil {
		panic(err) // it is embedded
	}
	return string(text)
}
