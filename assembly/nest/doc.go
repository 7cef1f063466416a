// Package nest lays flat parts on sheets and lengths on bars. Searches are
// bounded by counts, not by time, so the same input always gives the same result.
package nest
