package params

import "clampwright/params/unit"

// The types of this file are the parameter file, block by block. Tags:
//
//	key   the key in the file
//	doc   one sentence for the schema and the starter file
//	lim   lowest and highest value accepted, both included
//	enum  the words accepted, separated by |
//	ex    an example value
//	none  the block may be written as the word none
//	req   the key must be given
//	most  how many items a list may have
type (
	lengthV      = Given[unit.Length]
	forceV       = Given[unit.Force]
	pressureV    = Given[unit.Pressure]
	massV        = Given[unit.Mass]
	torqueV      = Given[unit.Torque]
	temperatureV = Given[unit.Temperature]
	wordV        = Given[string]
	countV       = Given[int]
	numberV      = Given[float64]
	switchV      = Given[bool]
)

// File is a whole parameter file as written, before defaults.
type File struct {
	Section
	Fixture    wordV           `key:"fixture" req:"y" doc:"name of the fixture, used on every document" ex:"four-cell"`
	Units      wordV           `key:"units" enum:"mm|in" doc:"unit of lengths written without one, and of the documents" ex:"mm"`
	Fractions  countV          `key:"fractions" lim:"2 .. 128" doc:"smallest inch fraction written, as its denominator (a power of two)" ex:"16"`
	Paper      wordV           `key:"paper" enum:"a4|letter" doc:"paper of templates and drawings" ex:"a4"`
	Cell       CellBlock       `key:"cell" req:"y" doc:"the cell, from its data sheet"`
	Pack       PackBlock       `key:"pack" req:"y" doc:"how many cells and how they stand"`
	Plates     PlateBlock      `key:"plates" doc:"the end plates"`
	Stiffeners StiffenerBlock  `key:"stiffeners" none:"y" doc:"drilled angles across the outside of the plates"`
	Rods       RodBlock        `key:"rods" doc:"threaded rods along the cells"`
	Nuts       NutBlock        `key:"nuts" doc:"nuts on both ends of every rod"`
	Washers    WasherBlock     `key:"washers" doc:"washers under the nuts"`
	Springs    SpringBlock     `key:"springs" none:"y" doc:"springs between washer and nut"`
	Separators InsertBlock     `key:"separators" none:"y" doc:"sheets between neighbouring cells; of a pad's material (list materials, family pad) pads"`
	Liners     InsertBlock     `key:"liners" none:"y" doc:"sheets between plate and cell; of a pad's material pads"`
	Fillers    FillerBlock     `key:"fillers" doc:"blocks in the last row's places that have no cell, of glued sheets"`
	Sleeves    SleeveBlock     `key:"sleeves" none:"y" doc:"insulating tubes on the rods"`
	Tools      ToolBlock       `key:"tools" doc:"the tools that must get in"`
	Clearances ClearanceBlock  `key:"clearances" doc:"least distances wanted"`
	Room       RoomBlock       `key:"room" none:"y" doc:"inside sizes of the box or shelf that the finished pack goes into; those left out are free"`
	Stock      StockBlock      `key:"stock" doc:"what the parts are cut from"`
	Printer    PrinterBlock    `key:"printer" doc:"the printer for small parts"`
	Prints     PrintsBlock     `key:"prints" doc:"which printed parts to make"`
	Clamp      ClampBlock      `key:"clamp" doc:"what the clamp mechanics should assume"`
	Electrical ElectricalBlock `key:"electrical" doc:"how the pack is wired"`
	Tolerances ToleranceBlock  `key:"tolerances" doc:"how well the shop works"`
	Prices     PriceBlock      `key:"prices" doc:"prices of bought pieces"`
	Tables     TablesBlock     `key:"tables" doc:"rows that add to or replace the built-in tables"`
	Readings   []ReadingBlock  `key:"readings" doc:"what was measured on the cells at hand and at the clamp"`
	Learned    []LearnedBlock  `key:"learned" most:"200" doc:"what readings of other packs told of cells; 'clampwright reading FILE --learned' writes entries"`
	Variants   []VariantBlock  `key:"variants" most:"100" doc:"further fixtures made from this file, each changing cell or count"`

	wrong  bool     // Decode had errors
	broken []string // paths of what could not be read: see independent

	beside     []ReadingBlock // of the table that electrical.records names
	besideText []byte         // that table
	taken      *taken         // what was measured, read already; may be nil
	known      []LearnedBlock // of the file that cell.learned names
	knownText  []byte

	name    string   // of the text
	text    []byte   // before changes were made
	changes []Change // made by With
}

// CellBlock describes the cell.
type CellBlock struct {
	Section
	Model              wordV         `key:"model" doc:"row of the cells table; every size below overrides it" ex:"72x174x201"`
	Thickness          lengthV       `key:"thickness" lim:"2 mm .. 200 mm" doc:"along the stack, the way the cell swells" ex:"72 mm"`
	Width              lengthV       `key:"width" lim:"20 mm .. 600 mm" doc:"long edge of the large face" ex:"174 mm"`
	Height             lengthV       `key:"height" lim:"20 mm .. 600 mm" doc:"case bottom to case top, terminals excluded" ex:"201 mm"`
	ThicknessTolerance lengthV       `key:"thickness_tolerance" lim:"0 mm .. 10 mm" doc:"plus or minus" ex:"0.8 mm"`
	WidthTolerance     lengthV       `key:"width_tolerance" lim:"0 mm .. 10 mm" doc:"plus or minus" ex:"0.5 mm"`
	HeightTolerance    lengthV       `key:"height_tolerance" lim:"0 mm .. 10 mm" doc:"plus or minus" ex:"0.5 mm"`
	Mass               massV         `key:"mass" doc:"mass of one cell" lim:"10 g .. 30 kg" ex:"5.42 kg"`
	Capacity           numberV       `key:"capacity" unit:"Ah" lim:"0.5 .. 2000" doc:"ampere-hours" ex:"280"`
	Resistance         numberV       `key:"resistance" unit:"mΩ|mOhm|mohm" lim:"0.01 .. 100" doc:"milliohms" ex:"0.25"`
	Current            numberV       `key:"current" unit:"A" lim:"0.1 .. 5000" doc:"greatest continuous current, amperes" ex:"280"`
	Compression        wordV         `key:"compression" enum:"force|none|unknown" doc:"what the data sheet asks: a force (or pressure), none (a case of thick plastic or steel carries the load, and the cell is held, not pressed), or unknown (it says nothing: cells in thin aluminium cases are pressed)" ex:"force"`
	Force              forceV        `key:"force" lim:"10 N .. 200 kN" doc:"clamp force on the large face" ex:"300 kgf"`
	ForceTolerance     forceV        `key:"force_tolerance" lim:"0 N .. 100 kN" doc:"plus or minus" ex:"20 kgf"`
	Pressure           pressureV     `key:"pressure" lim:"1 kPa .. 5 MPa" doc:"mean pressure on the large face, instead of force" ex:"12 psi"`
	PressureTolerance  pressureV     `key:"pressure_tolerance" lim:"0 kPa .. 2 MPa" doc:"plus or minus" ex:"3 psi"`
	ForceLimit         forceV        `key:"force_limit" lim:"10 N .. 400 kN" doc:"most force allowed in any state, when the data sheet gives an end-of-life limit of its own" ex:"1000 kgf"`
	ForceAlways        switchV       `key:"force_always" doc:"the sheet says that its tolerance holds in every state, not only when the clamp is set"`
	SwellZone          numberV       `key:"swell_zone" unit:"%" lim:"0.1 .. 1" doc:"edge of the central zone that domes, as a fraction of the face" ex:"0.6"`
	MiddleShare        numberV       `key:"middle_share" unit:"%" lim:"0.1 .. 1" doc:"least pressure in the swell zone as a part of the mean, when the data sheet gives one" ex:"0.8"`
	Batch              wordV         `key:"batch" doc:"the batch that the cells are of, as on their label or bill" ex:"2026-03"`
	Learned            wordV         `key:"learned" doc:"a file beside this one with what readings of other packs told of such cells, learned: and its entries" ex:"learned.yaml"`
	Case               wordV         `key:"case" enum:"live|insulated" doc:"bare metal case (may be live), or wrapped, or of plastic" ex:"live"`
	Terminals          TerminalBlock `key:"terminals" doc:"the two terminals on the lid"`
	Vent               VentBlock     `key:"vent" doc:"the vent on the lid"`
}

// TerminalBlock describes the terminals.
type TerminalBlock struct {
	Section
	Pitch    lengthV   `key:"pitch" lim:"5 mm .. 580 mm" doc:"centre to centre" ex:"122 mm"`
	Diameter lengthV   `key:"diameter" lim:"2 mm .. 80 mm" doc:"of the pad" ex:"18 mm"`
	Height   lengthV   `key:"height" lim:"0 mm .. 60 mm" doc:"pad top above the case" ex:"3 mm"`
	Thread   wordV     `key:"thread" doc:"thread of the terminals, a row of the threads table" ex:"M6"`
	Kind     wordV     `key:"kind" enum:"tapped|stud|weld_tab" doc:"how links are held: screws in tapped holes, nuts on studs, or strips that are welded on elsewhere, by someone equipped for it; default: stud where one is given, else tapped" ex:"weld_tab"`
	Screws   countV    `key:"screws" lim:"1 .. 4" doc:"tapped holes or studs on each terminal, in line; a link takes them all" ex:"2"`
	Spacing  lengthV   `key:"spacing" lim:"4 mm .. 200 mm" doc:"from one screw of a terminal to the next, middle to middle" ex:"20 mm"`
	Along    wordV     `key:"along" enum:"width|thickness" doc:"which way the screws of a terminal stand in line" ex:"width"`
	Stud     lengthV   `key:"stud" lim:"0 mm .. 60 mm" doc:"stud above the pad, 0 for a tapped hole" ex:"0 mm"`
	Depth    lengthV   `key:"depth" lim:"2 mm .. 40 mm" doc:"of the thread in a tapped hole, from the pad down; left out it is not known, and to be measured before screws are bought" ex:"8 mm"`
	Torque   torqueV   `key:"torque" lim:"0.2 N.m .. 60 N.m" doc:"of the terminal's screw or nut, by the cell's data sheet; left out the card has a field for it" ex:"5 N.m"`
	Plus     PoleBlock `key:"plus" doc:"the plus terminal, where it is not as the other or not in its usual place"`
	Minus    PoleBlock `key:"minus" doc:"the minus terminal, where it is not as the other or not in its usual place"`
}

// PoleBlock describes one terminal, seen from the large face with the plus on the right.
type PoleBlock struct {
	Section
	FromEdge  lengthV `key:"from_edge" lim:"1 mm .. 599 mm" doc:"from the case's narrow side on this terminal's hand to its middle; default: by the pitch" ex:"26 mm"`
	FromFront lengthV `key:"from_front" lim:"1 mm .. 199 mm" doc:"from the large face in front, the plus on your right, to the terminal's middle; default: half the thickness" ex:"20 mm"`
	Diameter  lengthV `key:"diameter" lim:"2 mm .. 80 mm" doc:"of its pad" ex:"18 mm"`
	Height    lengthV `key:"height" lim:"0 mm .. 60 mm" doc:"its pad's top above the case" ex:"5 mm"`
}

// VentBlock describes the vent.
type VentBlock struct {
	Section
	Length    lengthV `key:"length" lim:"0 mm .. 200 mm" doc:"along the cell's width; 0: no vent on the lid" ex:"30 mm"`
	Width     lengthV `key:"width" doc:"width of the vent" lim:"0 mm .. 100 mm" ex:"14 mm"`
	FromMinus lengthV `key:"from_minus" lim:"1 mm .. 599 mm" doc:"from the case's narrow side on the minus terminal's hand to the vent's middle; default: half the width" ex:"60 mm"`
	FromFront lengthV `key:"from_front" lim:"1 mm .. 199 mm" doc:"from the large face in front, the plus on your right, to the vent's middle; default: half the thickness" ex:"20 mm"`
}

// PackBlock says how many cells there are.
type PackBlock struct {
	Section
	Cells  countV  `key:"cells" req:"y" lim:"1 .. 256" doc:"cells in all rows" ex:"4"`
	Rows   countV  `key:"rows" lim:"1 .. 8" doc:"rows that share the end plates; where the cells do not fill them, the last is filled up with fillers" ex:"1"`
	RowGap lengthV `key:"row_gap" lim:"0 mm .. 300 mm" doc:"clear distance between neighbouring rows"`
	Stack  lengthV `key:"stack" lim:"2 mm .. 6 m" doc:"measured length of one row held together by hand; beats the sum of the sheet's thicknesses" ex:"8 1/2 in"`
}

// PlateBlock describes the end plates.
type PlateBlock struct {
	Section
	Material     wordV     `key:"material" doc:"row of the materials table" ex:"hdpe"`
	Thickness    lengthV   `key:"thickness" doc:"thickness of one plate, from the stock where it can be" lim:"1 mm .. 100 mm" ex:"3/4 in"`
	Width        lengthV   `key:"width" lim:"30 mm .. 2000 mm" doc:"default: rod columns and edge distance"`
	Height       lengthV   `key:"height" lim:"30 mm .. 1500 mm" doc:"default: the height of the cells and a little"`
	Bottom       lengthV   `key:"bottom" lim:"-300 mm .. 300 mm" doc:"lower edge above the underside of the cells"`
	CornerRadius lengthV   `key:"corner_radius" doc:"radius of the plates' corners" lim:"0 mm .. 200 mm" ex:"6 mm"`
	Grain        wordV     `key:"grain" enum:"across|up" doc:"plywood: face grain across the cells or up" ex:"across"`
	Flatness     lengthV   `key:"flatness" lim:"0 mm .. 10 mm" doc:"how hollow the plate may lie at its middle"`
	Feet         FeetBlock `key:"feet" none:"y" doc:"mounting holes near the lower edge"`
	TieSlots     switchV   `key:"tie_slots" doc:"upright slots for cable ties, beside the cells near the upper edge"`
	Mark         switchV   `key:"mark" doc:"engrave the part mark and UP" ex:"true"`

	Laminate LaminateBlock `key:"laminate" none:"y" doc:"each plate of thinner sheets on each other, drilled when they are joined"`
}

// LaminateBlock describes how sheets make a plate.
type LaminateBlock struct {
	Section
	Sheets     countV  `key:"sheets" lim:"2 .. 6" doc:"in one plate" ex:"3"`
	Sheet      lengthV `key:"sheet" lim:"1 mm .. 50 mm" doc:"thickness of one; default: the plate's shared out" ex:"6 mm"`
	Grain      wordV   `key:"grain" enum:"same|crossed" doc:"of the sheets: all as plates.grain, or every other one turned (an odd number of sheets)" ex:"same"`
	Joint      wordV   `key:"joint" enum:"glued|screwed" doc:"glued and screwed, or screws alone" ex:"glued"`
	Efficiency numberV `key:"efficiency" lim:"0 .. 1" doc:"part of the full shear between the sheets to count on: 0 loose on each other, 1 as one piece" ex:"0.8"`
	Screw      lengthV `key:"screw" lim:"2 mm .. 8 mm" doc:"diameter of the countersunk screws" ex:"3.5 mm"`
}

// FeetBlock describes the mounting holes.
type FeetBlock struct {
	Section
	Hole  lengthV `key:"hole" doc:"hole of a mounting foot" lim:"2 mm .. 30 mm" ex:"6.6 mm"`
	Inset lengthV `key:"inset" lim:"4 mm .. 300 mm" doc:"from the lower and the side edges" ex:"12 mm"`
}

// StiffenerBlock describes the angles.
type StiffenerBlock struct {
	Section
	Angle       wordV   `key:"angle" doc:"row of the angles table" ex:"1-1/4 x 1-1/4 x 1/8 in aluminium"`
	Length      lengthV `key:"length" lim:"30 mm .. 2000 mm" doc:"default: the plate's width"`
	Gauge       lengthV `key:"gauge" lim:"3 mm .. 200 mm" doc:"heel of the angle to the hole centre"`
	StandingLeg wordV   `key:"standing_leg" enum:"up|down|inward|outward" doc:"where the leg that stands off the plate is, seen from the holes: up, down, towards the plate's middle or its edges" ex:"inward"`
	DrilledLeg  wordV   `key:"drilled_leg" enum:"short|long" doc:"unequal angles: the leg that lies on the plate" ex:"short"`
	Chamfer     lengthV `key:"chamfer" lim:"0 mm .. 50 mm" doc:"on the corners of the standing leg's ends" ex:"3 mm"`
}

// RodBlock describes the rods.
type RodBlock struct {
	Section
	Thread       wordV     `key:"thread" doc:"row of the threads table" ex:"5/16-18"`
	Grade        wordV     `key:"grade" doc:"row of the grades table" ex:"4.8"`
	Levels       []lengthV `key:"levels" lim:"-200 mm .. 800 mm" doc:"heights of the rods above the underside of the cells; two or more" ex:"[52 mm, 150 mm]"`
	LevelCount   countV    `key:"level_count" lim:"2 .. 6" doc:"how many levels, when levels is not given; left out 2, or 4 between long rows" ex:"2"`
	Columns      []lengthV `key:"columns" lim:"-1000 mm .. 1000 mm" doc:"x of the rods from the middle; default: clear of the cells on both sides" ex:"[-98 mm, 98 mm]"`
	MiddleColumn switchV   `key:"middle_column" doc:"a column of rods between each two rows too"`
	Clearance    lengthV   `key:"clearance" lim:"0 mm .. 200 mm" doc:"clear distance from a rod's surface to the cells" ex:"16 mm"`
	EdgeDistance lengthV   `key:"edge_distance" lim:"1 mm .. 200 mm" doc:"hole centre to the plate's edge"`
	Length       lengthV   `key:"length" doc:"length of the rods as cut" lim:"20 mm .. 6 m"`
	EndAllowance lengthV   `key:"end_allowance" lim:"1 mm .. 500 mm" doc:"rod beyond the outer face at each end" ex:"3/4 in"`
	Protrusion   lengthV   `key:"protrusion" lim:"0 mm .. 100 mm" doc:"thread wanted outside the last nut"`
	Hole         lengthV   `key:"hole" lim:"2 mm .. 60 mm" doc:"clearance hole" ex:"7/16 in"`
	Fit          wordV     `key:"fit" enum:"fine|medium|coarse|shop" doc:"clearance series when hole is not given; shop is a sixteenth over an inch rod" ex:"medium"`
	Pilot        lengthV   `key:"pilot" lim:"0.5 mm .. 20 mm" doc:"pilot drill" ex:"1/16 in"`
}

// NutBlock describes the nuts.
type NutBlock struct {
	Section
	Kind    wordV   `key:"kind" enum:"plain|prevailing|jam" doc:"plain, prevailing-torque, or plain with a jam nut outside" ex:"prevailing"`
	Name    wordV   `key:"name" doc:"row of the nuts table" ex:"ISO 7040 M8"`
	DragMin torqueV `key:"drag_min" lim:"0 N.m .. 100 N.m" doc:"measured running torque, least" ex:"0.6 N.m"`
	DragMax torqueV `key:"drag_max" lim:"0 N.m .. 200 N.m" doc:"measured running torque, greatest" ex:"3 N.m"`
}

// WasherBlock describes the washers.
type WasherBlock struct {
	Section
	Series wordV `key:"series" doc:"series of the washers" enum:"standard|large" ex:"standard"`
	Name   wordV `key:"name" doc:"row of the washers table" ex:"ISO 7089 M8"`
}

// SpringBlock describes the springs.
type SpringBlock struct {
	Section
	Disc     wordV   `key:"disc" doc:"row of the discs table" ex:"20x10.2x1.1"`
	Coil     wordV   `key:"coil" doc:"row of the coils table"`
	Parallel countV  `key:"parallel" lim:"1 .. 8" doc:"disc springs nested the same way" ex:"1"`
	Series   countV  `key:"series" lim:"1 .. 60" doc:"groups facing each other" ex:"6"`
	Ends     wordV   `key:"ends" enum:"one|both" doc:"springs at one end of each rod or at both" ex:"one"`
	Friction numberV `key:"friction" lim:"0 .. 0.2" doc:"force lost per parallel face, as a fraction" ex:"0.03"`
}

// InsertBlock describes a sheet in the clamped chain.
type InsertBlock struct {
	Section
	Material  wordV          `key:"material" doc:"row of the materials table" ex:"fr4"`
	Thickness lengthV        `key:"thickness" doc:"thickness of one sheet" lim:"0.05 mm .. 50 mm" ex:"0.5 mm"`
	Width     lengthV        `key:"width" doc:"width of a sheet" lim:"10 mm .. 1300 mm"`
	Height    lengthV        `key:"height" doc:"height of a sheet" lim:"10 mm .. 600 mm"`
	Bottom    lengthV        `key:"bottom" doc:"lower edge of a sheet above the bottom of the cells" lim:"-100 mm .. 300 mm"`
	Pattern   wordV          `key:"pattern" enum:"sheet|frame|ribs" doc:"full sheet, a frame round the edge, or upright ribs" ex:"sheet"`
	Border    lengthV        `key:"border" lim:"2 mm .. 200 mm" doc:"width of the frame or of a rib"`
	RibPitch  lengthV        `key:"rib_pitch" doc:"distance from rib to rib" lim:"4 mm .. 200 mm"`
	Printed   switchV        `key:"printed" doc:"made on the printer, with locating lips"`
	Curve     []SqueezeBlock `key:"curve" doc:"of one pad: pressure against squeeze, in place of its material's"`
}

// FillerBlock describes the blocks in places without a cell.
type FillerBlock struct {
	Section
	Material wordV  `key:"material" doc:"row of the materials table; default: the plates', or birch plywood where these conduct" ex:"birch plywood"`
	Sheets   countV `key:"sheets" lim:"1 .. 40" doc:"one behind the other in one place; each has its share of a cell's thickness" ex:"4"`
}

// SqueezeBlock is one point of pressure against squeeze.
type SqueezeBlock struct {
	Section
	Squeeze  lengthV   `key:"squeeze" doc:"how much one sheet is squeezed together" req:"y" lim:"0 mm .. 50 mm" ex:"0.1 mm"`
	Pressure pressureV `key:"pressure" doc:"pressure at that squeeze" req:"y" lim:"0 kPa .. 100 MPa" ex:"80 kPa"`
}

// SleeveBlock describes the sleeves.
type SleeveBlock struct {
	Section
	Material wordV   `key:"material" doc:"row of the materials table" ex:"petg"`
	Wall     lengthV `key:"wall" doc:"wall of a sleeve" lim:"0.2 mm .. 20 mm" ex:"1.2 mm"`
	Fit      lengthV `key:"fit" lim:"0 mm .. 5 mm" doc:"free play per side on the rod" ex:"0.3 mm"`
	EndGap   lengthV `key:"end_gap" lim:"0 mm .. 50 mm" doc:"left at each end so that a sleeve never carries load" ex:"2 mm"`
	Printed  switchV `key:"printed" doc:"the sleeves are printed"`
}

// ToolBlock describes the tools.
type ToolBlock struct {
	Section
	Pliers    PliersBlock `key:"pliers" doc:"pliers that hold a rod mid-span"`
	Socket    lengthV     `key:"socket" lim:"5 mm .. 100 mm" doc:"measured outside diameter of the nut driver or socket" ex:"20 mm"`
	Length    lengthV     `key:"socket_length" lim:"10 mm .. 600 mm" doc:"straight length behind the nut: socket and drive" ex:"80 mm"`
	Drills    []wordV     `key:"drills" doc:"drill series owned: fraction, letter, number, metric; or single drills" ex:"[fraction]"`
	DrillBody lengthV     `key:"drill_body" lim:"5 mm .. 200 mm" doc:"diameter of the chuck" ex:"36 mm"`
	Cutter    lengthV     `key:"cutter" lim:"0 mm .. 25 mm" doc:"router cutter diameter; 0 for a laser or for hand work" ex:"1/8 in"`
}

// PliersBlock describes the pliers.
type PliersBlock struct {
	Section
	JawThickness lengthV `key:"jaw_thickness" lim:"1 mm .. 50 mm" doc:"each jaw, across the rod" ex:"6 mm"`
	JawWidth     lengthV `key:"jaw_width" lim:"1 mm .. 60 mm" doc:"along the rod" ex:"10 mm"`
	TipOverhang  lengthV `key:"tip_overhang" lim:"0 mm .. 40 mm" doc:"jaw tips beyond the rod" ex:"4 mm"`
	Reach        lengthV `key:"reach" lim:"5 mm .. 300 mm" doc:"jaw length before the joint" ex:"40 mm"`
	Room         lengthV `key:"room" lim:"0 mm .. 50 mm" doc:"free space wanted round the jaws" ex:"3 mm"`
}

// ClearanceBlock gives the least distances.
type ClearanceBlock struct {
	Section
	MetalToCell     lengthV `key:"metal_to_cell" lim:"0 mm .. 100 mm" doc:"bare metal to a cell case" ex:"3 mm"`
	MetalToTerminal lengthV `key:"metal_to_terminal" lim:"0 mm .. 200 mm" doc:"bare metal to terminals and links" ex:"10 mm"`
	ToolToCell      lengthV `key:"tool_to_cell" doc:"least gap from a tool to a case" lim:"0 mm .. 100 mm" ex:"2 mm"`
	ToolToTerminal  lengthV `key:"tool_to_terminal" doc:"least gap from a tool to a terminal" lim:"0 mm .. 200 mm" ex:"10 mm"`
	ToolToMetal     lengthV `key:"tool_to_metal" lim:"0 mm .. 50 mm" doc:"socket to angle, plate and neighbour nut" ex:"0.5 mm"`
	VentFree        lengthV `key:"vent_free" lim:"0 mm .. 300 mm" doc:"free height over a vent" ex:"20 mm"`
}

// RoomBlock describes the box or shelf.
type RoomBlock struct {
	Section
	Width  lengthV `key:"width" lim:"20 mm .. 6 m" doc:"across the cells" ex:"660 mm"`
	Height lengthV `key:"height" doc:"inside height of the box" lim:"20 mm .. 6 m" ex:"280 mm"`
	Length lengthV `key:"length" lim:"20 mm .. 8 m" doc:"along the stack" ex:"480 mm"`
	Gap    lengthV `key:"gap" lim:"0 mm .. 300 mm" doc:"wanted free on every side, for fingers or a sling" ex:"5 mm"`
	Leads  lengthV `key:"leads" lim:"0 mm .. 300 mm" doc:"over terminals and links, for caps, leads and their bend" ex:"30 mm"`
	Hand   lengthV `key:"hand" lim:"0 mm .. 500 mm" doc:"behind the nut driver, where the nuts are turned in there; 0 where the pack is lifted out for it" ex:"0 mm"`
}

// StockBlock lists what parts are cut from.
type StockBlock struct {
	Section
	Sheets     []SheetBlock `key:"sheets" doc:"sheets, offcuts and old plates, at hand or to be bought; of what is not listed usual ones are bought"`
	Angles     []BarBlock   `key:"angles" doc:"lengths of angle, new and old, at hand or to be bought; of what is not listed usual ones are bought"`
	Rods       []BarBlock   `key:"rods" doc:"lengths of threaded rod, at hand or to be bought; of what is not listed usual ones are bought"`
	Bars       []BarBlock   `key:"bars" doc:"lengths of link bar, at hand or to be bought; of what is not listed usual ones are bought"`
	PartGap    lengthV      `key:"part_gap" lim:"0 mm .. 100 mm" doc:"room between parts on a sheet" ex:"6 mm"`
	Margin     lengthV      `key:"margin" lim:"0 mm .. 200 mm" doc:"rim of a sheet that is not used" ex:"5 mm"`
	SawKerf    lengthV      `key:"saw_kerf" doc:"width of the saw's cut" lim:"0 mm .. 10 mm" ex:"1/8 in"`
	BeamKerf   lengthV      `key:"beam_kerf" lim:"0 mm .. 3 mm" doc:"kerf of a laser" ex:"0.2 mm"`
	Compensate switchV      `key:"compensate" doc:"also write files of the middle of the tool, offset for kerf or cutter"`
}

// SheetBlock is one sheet or offcut.
type SheetBlock struct {
	Section
	Material  wordV       `key:"material" doc:"row of the materials table" req:"y" ex:"hdpe"`
	Thickness lengthV     `key:"thickness" doc:"thickness as measured" req:"y" lim:"0.1 mm .. 100 mm" ex:"3/4 in"`
	Width     lengthV     `key:"width" doc:"width of one piece" req:"y" lim:"20 mm .. 4000 mm" ex:"24 in"`
	Height    lengthV     `key:"height" doc:"height of one piece" req:"y" lim:"20 mm .. 4000 mm" ex:"8 in"`
	Quantity  countV      `key:"quantity" lim:"1 .. 1000" doc:"pieces at hand; leave out for sheets that can be bought" ex:"1"`
	Offcut    switchV     `key:"offcut" doc:"a piece left over: it is used up before whole sheets"`
	Grain     wordV       `key:"grain" enum:"width|height" doc:"the way the face grain runs" ex:"width"`
	Price     numberV     `key:"price" doc:"price of one piece" lim:"0 .. 100000" ex:"35"`
	Holes     []HoleBlock `key:"holes" most:"100" doc:"holes of an old piece, from its lower left corner; parts are laid on them or clear of them" ex:"[{x: 15 mm, y: 50 mm, dia: 9 mm}]"`
}

// HoleBlock is a hole that an old piece has.
type HoleBlock struct {
	Section
	X   lengthV `key:"x" doc:"middle of the hole from the left edge or the end" req:"y" lim:"0 mm .. 12 m" ex:"30 mm"`
	Y   lengthV `key:"y" doc:"middle of the hole from the lower edge or the corner" req:"y" lim:"0 mm .. 4 m" ex:"25 mm"`
	Dia lengthV `key:"dia" doc:"diameter of the hole" req:"y" lim:"1 mm .. 200 mm" ex:"9 mm"`
}

// BarBlock is one length of bar, angle or rod.
type BarBlock struct {
	Section
	Item     wordV       `key:"item" doc:"what it is; default: the fixture's own section or thread" ex:"M8"`
	Length   lengthV     `key:"length" doc:"length of one piece" req:"y" lim:"50 mm .. 12 m" ex:"1 m"`
	Quantity countV      `key:"quantity" lim:"1 .. 1000" doc:"pieces at hand; leave out for lengths that can be bought" ex:"2"`
	Price    numberV     `key:"price" doc:"price of one piece" lim:"0 .. 100000" ex:"4.50"`
	Holes    []HoleBlock `key:"holes" most:"100" doc:"holes of an old angle or bar, heel down: from its left end and up from the heel or the lower edge; rods have none" ex:"[{x: 15 mm, y: 20 mm, dia: 9 mm}]"`
}

// PrinterBlock describes the printer.
type PrinterBlock struct {
	Section
	BedX     lengthV `key:"bed_x" doc:"room of the printer from left to right" lim:"50 mm .. 2000 mm" ex:"220 mm"`
	BedY     lengthV `key:"bed_y" doc:"room of the printer from front to back" lim:"50 mm .. 2000 mm" ex:"220 mm"`
	BedZ     lengthV `key:"bed_z" doc:"room of the printer in height" lim:"50 mm .. 2000 mm" ex:"240 mm"`
	Fit      lengthV `key:"fit" lim:"0 mm .. 2 mm" doc:"measured clearance per side" ex:"0.25 mm"`
	MinWall  lengthV `key:"min_wall" doc:"thinnest wall that it prints" lim:"0.2 mm .. 10 mm" ex:"1.2 mm"`
	Material wordV   `key:"material" doc:"row of the materials table that is printed" ex:"petg"`
}

// PrintsBlock chooses the printed parts.
type PrintsBlock struct {
	Section
	CornerGuards switchV `key:"corner_guards" doc:"guards on the row's four upright edges"`
	EndCaps      switchV `key:"end_caps" doc:"caps that index the stack to the plates"`
	RodCaps      switchV `key:"rod_caps" doc:"caps on the sawn rod ends"`
	Feet         switchV `key:"feet" doc:"feet with a mounting hole"`
	DrillGuides  switchV `key:"drill_guides" doc:"guides for plate and angle holes"`
	Gauges       switchV `key:"gauges" doc:"spring-height gauge and bulge feeler"`
	Bushing      lengthV `key:"bushing" lim:"0 mm .. 40 mm" doc:"outer diameter of the press-in drill bushings of the guides; 0 for a printed bore" ex:"0 mm"`
}

// ClampBlock holds what the mechanics assume.
type ClampBlock struct {
	Section
	Shape         wordV          `key:"shape" enum:"domed|flat" doc:"how free growth is spread over the face" ex:"domed"`
	Growth        []GrowthBlock  `key:"growth" doc:"free growth of one cell against charge"`
	Aged          lengthV        `key:"aged" lim:"0 mm .. 20 mm" doc:"lasting growth of one cell at end of life"`
	SetCharge     numberV        `key:"set_charge" unit:"%" lim:"0 .. 0.5" doc:"state of charge at tightening, no more than storage_charge" ex:"0.3"`
	StorageCharge numberV        `key:"storage_charge" unit:"%" lim:"0.1 .. 0.6" doc:"state of charge at which the clamp may be opened" ex:"0.4"`
	Squeeze       []SqueezeBlock `key:"squeeze" doc:"pressure against squeeze of one cell"`
	FrictionLow   numberV        `key:"friction_low" lim:"0.05 .. 1" doc:"least K of T = K d F" ex:"0.15"`
	FrictionHigh  numberV        `key:"friction_high" lim:"0.05 .. 1" doc:"greatest K" ex:"0.30"`
	AssemblyTemp  temperatureV   `key:"assembly_temperature" doc:"temperature at which the clamp is set" lim:"-20 C .. 60 C" ex:"20 C"`
	ColdTemp      temperatureV   `key:"cold" doc:"coldest that the pack gets" lim:"-60 C .. 40 C" ex:"0 C"`
	HotTemp       temperatureV   `key:"hot" doc:"hottest that the pack gets; most data sheets end at 60 C" lim:"10 C .. 60 C" ex:"45 C"`
	CellCTE       numberV        `key:"cell_expansion" lim:"0 .. 300" doc:"thermal expansion of a cell's thickness, 1e-6/K" ex:"30"`
	Bulge         lengthV        `key:"bulge" lim:"0 mm .. 10 mm" doc:"how far a face is domed before clamping" ex:"0 mm"`
	StiffnessLow  numberV        `key:"stiffness_low" lim:"0.05 .. 1" doc:"least stiffness of such cells, as a factor on the middle of its range, that the share is drawn from" ex:"0.5"`
	StiffnessHigh numberV        `key:"stiffness_high" doc:"greatest stiffness of the cells, as a factor on the middle of its range" lim:"1 .. 20" ex:"2"`
	Years         numberV        `key:"years" unit:"years|year" lim:"1 .. 30" doc:"how long the clamp is to do its work" ex:"10"`
}

// GrowthBlock is one point of growth against charge.
type GrowthBlock struct {
	Section
	Charge numberV `key:"charge" doc:"charge of the cells" unit:"%" req:"y" lim:"0 .. 1" ex:"0.5"`
	Growth lengthV `key:"growth" doc:"growth of one cell at that charge" req:"y" lim:"-5 mm .. 20 mm" ex:"0.2 mm"`
}

// ElectricalBlock says how the pack is wired.
type ElectricalBlock struct {
	Section
	Series         countV  `key:"series" doc:"groups in series" lim:"1 .. 256" ex:"4"`
	Parallel       countV  `key:"parallel" doc:"cells side by side in a group" lim:"1 .. 64" ex:"1"`
	Nominal        numberV `key:"nominal_voltage" unit:"V" lim:"3 .. 3.4" doc:"volts, one cell of lithium iron phosphate" ex:"3.2"`
	Full           numberV `key:"full_voltage" unit:"V" lim:"3.4 .. 3.7" doc:"volts, one cell of lithium iron phosphate" ex:"3.65"`
	Storage        numberV `key:"storage_voltage" unit:"V" lim:"3.1 .. 3.4" doc:"volts, one cell of lithium iron phosphate, at rest" ex:"3.3"`
	Low            numberV `key:"low_voltage" unit:"V" lim:"2 .. 3.1" doc:"volts, one cell of lithium iron phosphate" ex:"2.5"`
	Current        numberV `key:"current" unit:"A" lim:"0.1 .. 5000" doc:"rated current of the pack, A" ex:"100"`
	BalanceCurrent numberV `key:"balance_current" unit:"A" lim:"0.1 .. 1000" doc:"of the charger for one cell and of the load, with which cells are balanced, A" ex:"20"`
	Board          numberV `key:"board" unit:"A" lim:"0.1 .. 1000" doc:"current of a charger for the whole pack behind its protection board, A; leave it out where there is none" ex:"20"`
	LinkMaterial   wordV   `key:"link_material" doc:"metal of the links" enum:"copper|aluminium" ex:"copper"`
	LinkPlated     switchV `key:"link_plated" doc:"the links are tinned or nickel plated"`
	LinkForm       wordV   `key:"link_form" enum:"bar|braided" doc:"rigid bars, or links of braid or thin sheets that give; default: braided where the terminals move too far for a bar" ex:"braided"`
	LinkWidth      lengthV `key:"link_width" doc:"width of a link" lim:"4 mm .. 100 mm" ex:"20 mm"`
	LinkThickness  lengthV `key:"link_thickness" doc:"thickness of one layer of a link" lim:"0.2 mm .. 20 mm" ex:"2 mm"`
	LinkSheet      lengthV `key:"link_sheet" lim:"0 mm .. 10 mm" doc:"insulating sheet on the lids under the links, 0 mm for none; default: where the links lie nearer to live cases than clearances.metal_to_cell" ex:"0.5 mm"`
	Contact        numberV `key:"contact" unit:"µΩ|uOhm|uohm" lim:"0.1 .. 100" doc:"resistance of one joint, microohm: clean and tight it has 10 to 20; clean one that has more" ex:"15"`
	Spanner        lengthV `key:"spanner" lim:"20 mm .. 1000 mm" doc:"length of the longest bare tool used over the terminals" ex:"150 mm"`
	Plan           wordV   `key:"plan" enum:"turn|cross|single|series" doc:"way from loose cells to the full pack; series takes electrical.board; default: the recommended one"`
	Records        wordV   `key:"records" doc:"readings as a table, a CSV file beside this one" ex:"cells.csv"`
	TakeOff        wordV   `key:"take_off" enum:"left|right" doc:"side on which the pack minus stands, seen from the front" ex:"left"`

	Links []StateLinksBlock `key:"links" doc:"links of your own in place of the computed ones, state by state"`
}

// StateLinksBlock lists the links of one state.
type StateLinksBlock struct {
	Section
	State wordV   `key:"state" req:"y" doc:"final or balance" ex:"final"`
	Links []wordV `key:"links" req:"y" doc:"each names two terminals: a cell, then + or - (or left or right); cells of two rows are A1, B1, ..." ex:"[1+ 2-, 2+ 3-]"`
}

// ToleranceBlock says how well the shop works.
type ToleranceBlock struct {
	Section
	Holes     wordV   `key:"holes" enum:"hand|router|laser" doc:"how holes are made: by hand they are off by 0.5 mm, by router or laser by 0.1 mm" ex:"hand"`
	HoleError lengthV `key:"hole_error" lim:"0 mm .. 5 mm" doc:"plus or minus, instead of holes"`
	CutError  lengthV `key:"cut_error" lim:"0 mm .. 10 mm" doc:"length of rods and angles, plus or minus"`
	SizeError lengthV `key:"size_error" lim:"0 mm .. 10 mm" doc:"size of plates, plus or minus"`
	Sheets    numberV `key:"sheets" unit:"%" lim:"0 .. 0.3" doc:"thickness of sheets as sold, plus or minus, as a fraction of it" ex:"0.03"`
	TurnError numberV `key:"turn_error" unit:"turns|turn" lim:"0 .. 1" doc:"turns" ex:"0.08"`
	Seed      countV  `key:"seed" lim:"0 .. 1000000000" doc:"of the statistical stack-up" ex:"1"`
}

// PriceBlock gives prices.
type PriceBlock struct {
	Section
	Currency wordV       `key:"currency" doc:"currency of all prices" ex:"EUR"`
	Each     []EachBlock `key:"each" doc:"price of one bought piece"`
}

// EachBlock is the price of one piece.
type EachBlock struct {
	Section
	Item  wordV   `key:"item" req:"y" doc:"designation as in the parts list" ex:"ISO 7040 M8"`
	Price numberV `key:"price" doc:"price of one piece" req:"y" lim:"0 .. 100000" ex:"0.35"`
}

// ReadingBlock is one reading.
type ReadingBlock struct {
	Section
	What        wordV `key:"what" doc:"what was read" req:"y" enum:"capacity|resistance|voltage|centre|edge_left|edge_right|stack|spring|turns|torque|running|bow|weighed|length|width|height|thickness|hole_dia|hole_x|hole_y" ex:"stack"`
	Where       wordV `key:"where" doc:"the cell by its serial, the made part by its mark with its number and the hole, or the rod" ex:"P1/2 H3"`
	When        wordV `key:"when" enum:"snug|quarter|half|three_quarters|set|storage|full|visit|reset" doc:"the state of the clamp: on the way to as set, as set, at storage charge or full soon after, on a later visit, or after nuts were turned again" ex:"snug"`
	Date        wordV `key:"date" doc:"the day it was read" ex:"2026-05-31"`
	Charge      wordV `key:"charge" doc:"of the cells, 0 to 1; default: as set, at storage charge or full, as when says" ex:"0.4"`
	Temperature wordV `key:"temperature" doc:"of the cells; default: as at assembly" ex:"20 C"`
	Cycles      wordV `key:"cycles" doc:"that the cells have seen; half of their lasting growth is taken to go with these, half with the years" ex:"120"`
	Load        wordV `key:"load" doc:"stack: weights on the loose row, stood on end" ex:"20 kg"`
	High        wordV `key:"high" doc:"weighed: height of the spring on the scale" ex:"40 mm"`
	Value       wordV `key:"value" req:"y" doc:"with its unit" ex:"288.4 mm"`
	Unit        wordV `key:"unit" doc:"where the value has none" ex:"mm"`
	Uncertainty wordV `key:"uncertainty" doc:"plus or minus; default: the instrument's" ex:"0.1 mm"`
	Instrument  wordV `key:"instrument" doc:"what it was read with" enum:"calliper|micrometer|tape|pen mark|dial gauge|feeler|torque wrench|scale|voltmeter|milliohmmeter|cell tester" ex:"calliper"`
}

// LearnedBlock is what the readings of a pack told of its cells.
type LearnedBlock struct {
	Section
	Cell       wordV            `key:"cell" req:"y" doc:"the cell's model, as cell.model; of a cell without one its thickness, width and height" ex:"72x174x201"`
	Batch      wordV            `key:"batch" doc:"the batch, as cell.batch" ex:"2026-03"`
	Pack       wordV            `key:"pack" req:"y" doc:"the fixture whose readings told it; for that fixture itself the entry is not used" ex:"van-left"`
	Packs      countV           `key:"packs" lim:"1 .. 1000" doc:"how many packs it rests on; default 1" ex:"1"`
	From       wordV            `key:"from" doc:"where it is from" ex:"44 readings of one year"`
	Parameters []ParameterBlock `key:"parameters" req:"y" most:"11" doc:"what is known of the cells; what is left out is taken from the assumed ranges"`
}

// ParameterBlock is one parameter of a cell.
type ParameterBlock struct {
	Section
	Name   wordV     `key:"name" req:"y" enum:"modulus|rise|growth_stiffness|growth|held_growth|ageing|held_ageing|used|time_power|evenness|expansion" doc:"modulus in MPa at 84 kPa and its rise with pressure; stiffness against growth; growth empty to full and when held; lasting growth, when held, the part of it in ten years, and its power of time; evenness over the face; expansion in 1/K" ex:"modulus"`
	Middle numberV   `key:"middle" doc:"most likely value" req:"y" ex:"24.1"`
	Low    numberV   `key:"low" req:"y" doc:"90 of 100 lie between low and high" ex:"21.5"`
	High   numberV   `key:"high" doc:"upper end: five of a hundred lie above" req:"y" ex:"27"`
	With   []numberV `key:"with" lim:"-0.9999 .. 0.9999" most:"10" doc:"correlation with every parameter before it, in their order; left out: none" ex:"-0.3"`
}

// VariantBlock is one further fixture made from the same file.
type VariantBlock struct {
	Section
	Name     wordV  `key:"name" req:"y" doc:"added to the fixture's name" ex:"eight"`
	Model    wordV  `key:"model" doc:"row of the cells table" ex:"54x174x200"`
	Cells    countV `key:"cells" doc:"cells in the pack" lim:"1 .. 256" ex:"8"`
	Rows     countV `key:"rows" doc:"rows of cells" lim:"1 .. 8" ex:"1"`
	Series   countV `key:"series" doc:"groups in series" lim:"1 .. 256"`
	Parallel countV `key:"parallel" doc:"cells side by side in a group" lim:"1 .. 64"`
}
