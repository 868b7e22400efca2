package shopfile

import (
	"context"
	"errors"
	"fmt"
	"os"
	"strconv"
	"testing"

	"skegworth/costing"
	"skegworth/data/shopfile/throwaway"
)

// taskVariable makes the test program do one task as a program of its own, for tests of several programs
// at one file.
const taskVariable = "SHOPFILE_TEST_TASK"

func TestMain(m *testing.M) {
	task := tasks[os.Getenv(taskVariable)]
	if task == nil {
		code := m.Run()
		if err := throwaway.End(); err != nil {
			fmt.Fprintln(os.Stderr, "stop PostgreSQL:", err)
			code = 1
		}
		os.Exit(code)
	}
	if err := task(context.Background(), os.Args[1:]); err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(1)
	}
}

var tasks = map[string]func(ctx context.Context, args []string) error{
	"open": func(ctx context.Context, args []string) error {
		f, err := Open(ctx, args[0])
		if err != nil {
			return err
		}
		defer f.Close()
		_, err = f.Read(ctx)
		return err
	},
	// intake makes the file if it is not there, as several programs started at once would, and adds a motor.
	"intake": func(ctx context.Context, args []string) error {
		f, err := Create(ctx, args[0])
		if errors.Is(err, ErrExists) {
			f, err = Open(ctx, args[0])
		}
		if err != nil {
			return err
		}
		defer f.Close()
		return f.Write(ctx, "a motor", "", func(tx *Tx) error {
			return tx.PutRecord(&costing.Record{Stage: costing.Prospect})
		})
	},
	// raise adds one to the price of a motor so many times, reading it again when another was faster.
	"raise": func(ctx context.Context, args []string) error {
		f, err := Open(ctx, args[0])
		if err != nil {
			return err
		}
		defer f.Close()
		times, err := strconv.Atoi(args[2])
		if err != nil {
			return err
		}
		return raise(ctx, f, args[1], times)
	},
}
