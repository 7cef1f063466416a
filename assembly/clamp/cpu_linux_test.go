package clamp

import (
	"syscall"
	"testing"
)

// reportCPU adds the processor time per operation to a benchmark: the wall time
// says little on a busy machine.
func reportCPU(b *testing.B) func() {
	now := func() int64 {
		var u syscall.Rusage
		_ = syscall.Getrusage(syscall.RUSAGE_SELF, &u)
		return u.Utime.Nano() + u.Stime.Nano()
	}
	start := now()
	return func() { b.ReportMetric(float64(now()-start)/float64(b.N)/1e6, "cpu-ms/op") }
}
