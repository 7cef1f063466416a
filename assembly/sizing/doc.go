// Package sizing searches the stock a user has or can buy for fixtures that pass
// every check, and ranks them by mass, by cost and by evenness of pressure.
//
// A Catalogue lists the choices: plates, angles, rod heights, threads, springs.
// A candidate is one of each. The search narrows in stages, each of which only
// discards what a later one could not accept:
//
//  1. Closed forms, exact: the candidate settles, its washers lie flat, its rods,
//     threads, seats and springs stand their share of the tightening force.
//  2. A coarse grid as tightened, with Slack allowed on every bound.
//  3. Best first in each ranking, until nothing that is left can rank higher: the
//     checks that take little time, the coarse grid in two more states, the full
//     grid in all states, then the proof of the whole by all checks. Mass and
//     cost are closed forms, so their order is known beforehand; evenness is bounded
//     below from the coarse grid, less its error.
//
// The same catalogue gives the same answer, whatever the number of cores.
package sizing
