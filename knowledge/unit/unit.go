// Package unit describes the transmission as a structure: ranges, gears,
// elements, ports, coils and sensors, and the unit sheets that hold its
// acceptance values.
package unit
