// Package order sorts lists.
//
// The sorting of package slices is made anew for every type that it sorts, which
// is a dozen kilobytes each in a program that everybody downloads. This one is
// made once. It is a little slower; where a search sorts thousands of times,
// package slices is the right one.
package order

import "sort"

// Stable sorts a list so that compare gives no member a positive number against
// the one after it. Members that are equal keep their order. compare is negative
// when a comes before b, as for slices.SortStableFunc.
func Stable[T any](list []T, compare func(a, b T) int) {
	sort.SliceStable(list, func(i, j int) bool { return compare(list[i], list[j]) < 0 })
}
