package main

import (
	"errors"
	"fmt"
	"os"
	"os/signal"
	"runtime"
	"syscall"
)

// hangup is SIGHUP, which js/wasm has no name for.
const hangup = syscall.Signal(1)

// stopOnSignal ends the run at the first signal, between two renames, and deletes
// temporary files. A second signal ends it at once. Signals that were ignored at the
// start, as under nohup, stay ignored.
func (p *program) stopOnSignal() {
	if runtime.GOOS == "js" { // there are no signals, and asking for one panics
		return
	}
	signals := make(chan os.Signal, 2)
	for _, s := range []os.Signal{os.Interrupt, syscall.SIGTERM, hangup, syscall.SIGQUIT} {
		if !signal.Ignored(s) {
			signal.Notify(signals, s)
		}
	}
	go func() {
		<-signals
		go func() {
			p.files.Stop()
			p.complain(errors.New(p.stopped()))
			os.Exit(statusFailed)
		}()
		<-signals
		os.Exit(statusFailed)
	}()
}

// stopped returns the message of a stopped run.
func (p *program) stopped() string {
	const whole = "no file is half-written"
	if b := p.progress.Load(); b != nil {
		b.wipe()
		return fmt.Sprintf("stopped after %d of %d files; %s", b.steps.Load(), b.files, whole)
	}
	return "stopped; " + whole
}
