package drawing

import "clampwright/parts"

// HowToDrill says in words how slots are opened; empty without any.
func HowToDrill(slots []parts.Slot) string {
	near, far := false, false
	for _, s := range slots {
		near, far = near || !s.Apart(), far || s.Apart()
	}
	switch {
	case near && far:
		return "Long slots: drill both ends, then saw or file the web out. Short slots: drill one end, then file to the other."
	case near:
		return "Slots: drill one end, then file to the other."
	case far:
		return "Slots: drill both ends, then saw or file the web out."
	}
	return ""
}
