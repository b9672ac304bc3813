package wording

// englishDrivePage is what the page says of sliders and of files.
var englishDrivePage = []entry{
	{"page.file.pick", "Pick a file"},
	{"page.file.drop", "or drop it anywhere on this page"},
	{"page.file.paste", "or paste its text here"},
	{"page.file.private", "It stays on this device: nothing is uploaded."},
	{"page.file.unnamed", "Without a file name"},
	{"page.file.away", "Take away"},
	{"page.file.unkept", "Too large to be kept on this device: after a reload, pick it again."},

	{"script.unset", "not set"},
	{"script.file.empty", "That file is empty. What was here stays."},
	{"script.file.unread", "That file could not be read. What was here stays."},
	{"script.file.taken", "Read on this device. Undo brings back what was here."},
	{"script.file.away", "Taken away. Undo brings it back."},
	{"script.left", "Link without the file: it is too long for a link."},
}
