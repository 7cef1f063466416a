// Package compare says what a changed parameter file means for parts that are
// already made: which are kept, which can be cut down or drilled again, which
// have to be made or bought, and which are left over; and how checks and clamp
// stand side by side. Every kept part is proved: each dimension with its
// difference and what its fit allows.
package compare
