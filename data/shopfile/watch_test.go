package shopfile

import (
	"context"
	"testing"
	"time"
)

// watched has a File watched until the test ends, and gives what it hears.
func watched(t *testing.T, f *File) <-chan struct{} {
	t.Helper()
	heard := make(chan struct{}, 100)
	ctx, stop := context.WithCancel(context.Background())
	over := make(chan error, 1)
	go func() { over <- f.Watch(ctx, func() { heard <- struct{}{} }) }()
	t.Cleanup(func() {
		stop()
		if err := <-over; err != nil {
			t.Errorf("watching ends with %v", err)
		}
	})
	return heard
}

func soon(t *testing.T, what string, heard <-chan struct{}) {
	t.Helper()
	select {
	case <-heard:
	case <-time.After(time.Minute): // a busy machine
		t.Errorf("%s was not heard of", what)
	}
}

func TestAWatchHearsOfOthersOnly(t *testing.T) {
	onEachEngine(t, func(t *testing.T, fresh maker) {
		f := fresh(t)
		address := f.Path()
		other, err := Open(t.Context(), address)
		must(t, err)
		defer other.Close()
		heard := watched(t, f)
		for settled := false; !settled; { // until it watches
			saved(t, other)
			select {
			case <-heard:
				settled = true
			case <-time.After(50 * time.Millisecond):
			}
		}
		time.Sleep(1200 * time.Millisecond) // and has heard of all of that
		for len(heard) > 0 {
			<-heard
		}
		r := saved(t, f)
		must(t, raise(t.Context(), f, r.ID, 5))
		_, err = f.Undo(t.Context())
		must(t, err)
		time.Sleep(1500 * time.Millisecond)
		if n := len(heard); n != 0 {
			t.Errorf("its own changes were told %d times", n)
		}
		saved(t, other)
		soon(t, "a change of another", heard)
		_, err = other.Undo(t.Context())
		must(t, err)
		soon(t, "an undo of another", heard)
		if IsServer(address) {
			byHand(t, other, "SELECT pg_terminate_backend(pid) FROM pg_stat_activity WHERE query = 'LISTEN "+channel+"'")
			soon(t, "a connection lost", heard)
			saved(t, other)
			soon(t, "a change after that", heard)
		}
	})
}

// What is in another schema of the same database is another shop.
func TestAWatchIsOfOneShop(t *testing.T) {
	f, other := freshPostgres(t), freshPostgres(t)
	second, err := Open(t.Context(), f.Path())
	must(t, err)
	defer second.Close()
	heard := watched(t, f)
	for settled := false; !settled; {
		saved(t, second)
		select {
		case <-heard:
			settled = true
		case <-time.After(50 * time.Millisecond):
		}
	}
	time.Sleep(300 * time.Millisecond)
	for len(heard) > 0 {
		<-heard
	}
	saved(t, other)
	time.Sleep(300 * time.Millisecond)
	if len(heard) > 0 {
		t.Error("a change of another shop was told")
	}
}
