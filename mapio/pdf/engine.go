package pdf

import (
	"context"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"runtime"
	"sync"

	"github.com/klippa-app/go-pdfium"
	"github.com/klippa-app/go-pdfium/webassembly"
	"github.com/tetratelabs/wazero"
	"github.com/tetratelabs/wazero/api"
	"github.com/tetratelabs/wazero/experimental"
)

const (
	// memoryPages bounds the renderer's memory: 32,768 pages of 64 KB, 2 GB.
	memoryPages = 32768
	// instances is how many documents may be open in the renderer at once: one
	// in use, and those that were given up and still run out.
	instances = 3
)

// Engine is the renderer, which starts when it is first needed and then stays
// for as long as the Engine is kept. It may be used by several goroutines.
type Engine struct {
	start func() (pdfium.Pool, error)
}

// NewEngine prepares an engine that keeps its machine code (about 42 MB) in a
// folder, which is made when needed and may be emptied at any time; "" keeps
// none, and every process then translates for seconds. Nothing is started.
func NewEngine(folder string) *Engine {
	return &Engine{start: sync.OnceValues(func() (pdfium.Pool, error) { return startPool(folder) })}
}

// DefaultFolder is where the machine code is kept: in the user's cache
// folder, or "" where there is none.
func DefaultFolder() string {
	dir, err := os.UserCacheDir()
	if err != nil {
		return ""
	}
	return filepath.Join(dir, "legwright", "pdf")
}

func startPool(folder string) (_ pdfium.Pool, err error) {
	defer contain(&err)
	// WithCloseOnContextDone is left out on purpose: the checks it puts into
	// every loop make drawing three times slower. Drawing pauses itself.
	config := wazero.NewRuntimeConfig().
		WithCoreFeatures(api.CoreFeaturesV2 | experimental.CoreFeaturesExceptionHandling).
		WithMemoryLimitPages(memoryPages)
	if folder != "" {
		// A folder that cannot be used costs time, not the picture.
		if cache, err := wazero.NewCompilationCacheWithDir(folder); err == nil {
			config = config.WithCompilationCache(cache)
		}
	}
	pool, err := webassembly.Init(webassembly.Config{
		Context:       experimental.WithCompilationWorkers(context.Background(), runtime.GOMAXPROCS(0)),
		MaxIdle:       1,
		MaxTotal:      instances,
		FSConfig:      wazero.NewFSConfig(), // no folder of this machine is mounted
		RuntimeConfig: config,
		Stdout:        io.Discard,
		Stderr:        io.Discard,
	})
	if err != nil {
		return nil, fmt.Errorf("%w to start: %w", ErrEngine, err)
	}
	return pool, nil
}

// contain turns a panic into an error: on a goroutine of ours one would end
// the program and take the plan with it.
func contain(err *error) {
	if v := recover(); v != nil {
		*err = fmt.Errorf("%w: it broke down over this document (%v)", ErrEngine, v)
	}
}
