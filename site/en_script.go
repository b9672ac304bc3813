package site

import "ohmwright/core/wording"

// englishScript holds the words of the page's scripts.
var englishScript = []wording.Entry{
	{"unset", "not set"},
	{"file.empty", "That file is empty. What was here stays."},
	{"file.unread", "That file could not be read. What was here stays."},
	{"file.taken", "Read on this device. Undo brings back what was here."},
	{"file.away", "Taken away. Undo brings it back."},
	{"left", "Link without the file: it is too long for a link."},

	// Said by scripts, in the words given here.
	{"failed", "The computing part did not start. What you typed is safe. Reload to try again."},
	{"saved", "Saved on this device"},
	{"unsaved.full", "Not saved: this device's storage is full. Share the link to keep your entries."},
	{"unsaved.forbidden", "Not saved: this browser forbids storage here. Share the link to keep your entries."},
	{"offline", "Works offline"},
	{"offline.not", "Not yet ready for offline use"},
	{"update", "A new version is ready. Tap to change to it."},
	{"damaged", "What was saved here could not be read. It is set aside, not deleted: tap to see it."},
	{"newer", "What was saved here was written by a newer version. It is set aside, not deleted: tap to see it."},
	{"opened", "Opened from a link. Undo brings yours back."},
	{"copied", "Link copied."},
	{"photo.unread", "That file could not be read as a picture. Nothing else has changed."},
	{"photo.most", "A job keeps 12 photographs. Take one away to add another."},
	{"code.label", "This link as a QR code"},
	{"code.long", "This link is too long for a code that a camera can read. Share the link instead, or the job as a file."},
	{"copy", "Copy this link:"},
	{"undone", "Undone."},
	{"nothing", "Nothing to undo."},
	{"cleared", "Cleared. Undo brings everything back."},
	{"most", "No more rows fit in here."},
	{"copied.bare", "Link to the exercise alone copied: without your readings and your answer."},
	{"removed", "Row removed. Undo brings it back."},
	{"kept", "Row kept on this device."},
	{"kept.vehicle", "Kept on this device under that name."},
	{"used.vehicle", "Taken from what was kept. Undo brings yours back."},
	{"forgotten", "Forgotten. Undo brings it back."},
	{"hidden", "A fault is hidden. Undo brings back what was here."},
	{"carried", "Taken over. Undo takes it back."},
	{"same", "It shows %s, as entered"},
	{"example", "Example filled in. Undo brings yours back."},
	{"lost", "The computing part stopped. What you typed is saved; reload to go on."},
	{"cross", "%s across, %s up"},
	{"placed", "Placed at %s across, %s up. Undo takes it away."},
	{"away", "Taken away. Undo brings it back."},
}
