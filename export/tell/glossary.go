package tell

// Glossary are the words of the card that a builder may ask about.
var Glossary = []struct{ Word, Means string }{
	{"share", "the part of fixtures, made, set and looked after as the card says, whose force stays inside its bands all their life. It is a share of assumed ranges: no force here was ever measured on a real pack."},
	{"setting band", "the least and greatest force when you tighten, at storage charge and 20 °C. It is the data sheet's force with its tolerance."},
	{"service band", "the least and greatest force in any later state: full, empty, warm, cold, aged."},
	{"storage charge", "the charge at which cells are kept and the clamp may be slackened. It is in the key clamp.storage_charge."},
	{"snug", "the nut just touches: you can still turn its washer by hand, and the stack lies together. Turns are counted from there."},
	{"turns past snug", "how far you turn each nut after snug. One flat of a hexagon nut is a sixth of a turn."},
	{"middle of the face", "the part of a cell's large face where it swells most. The clamp is there to press it."},
	{"creep", "slow sinking of plastic and wood under a lasting force. The force falls with it."},
	{"stack", "the cells of one row, side by side, with whatever lies between them."},
	{"end plate", "the plate at each end of the stack."},
	{"angle", "a length of angle section across the outside of an end plate. It spreads the force of the rods."},
	{"drilled leg", "the leg of an angle that lies on the plate and has the holes."},
	{"standing leg", "the leg of an angle that stands off the plate."},
	{"gauge", "the distance from an angle's heel, its outer corner, to the middle of the holes."},
	{"liner", "an insulating sheet or pad between a plate and the cell beside it."},
	{"separator", "an insulating sheet, pad or frame between two cells."},
	{"grip room", "the free space round the middle of a rod for the pliers that hold it while its nut is turned."},
	{"link", "the bar or cable that joins two terminals."},
	{"jumper", "a link that is fitted only while the cells are charged in parallel."},
	{"stray", "a cell whose charge or voltage differs from that of the others."},
	{"top balance", "charging all cells in parallel until each is full, so that they are full together later."},
}
