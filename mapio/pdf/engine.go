package pdf

import (
	"context"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"runtime"
	"sync"
	_ "unsafe" // for go:linkname

	"github.com/klippa-app/go-pdfium"
	"github.com/klippa-app/go-pdfium/webassembly"
	"github.com/tetratelabs/wazero"
	"github.com/tetratelabs/wazero/api"
	"github.com/tetratelabs/wazero/experimental"
)

// module is the PDFium module inside go-pdfium. It is linked by name because
// go-pdfium does not export it. Never write to it.
//
//go:linkname module github.com/klippa-app/go-pdfium/internal/pdfium_wasm.Module
var module []byte

// Engine is the renderer, which starts when it is first needed and then stays
// for as long as the Engine is kept. It may be used by several goroutines; one
// document is open in it at a time.
type Engine struct {
	start  func() (pdfium.Pool, error)
	memory arena
	place  chan struct{} // full while a document is open
}

// NewEngine prepares an engine that keeps its machine code (about 42 MB) in a
// folder, which is made when needed and may be emptied at any time; "" keeps
// none, and every process then translates for seconds. Nothing is started.
func NewEngine(folder string) *Engine {
	e := &Engine{place: make(chan struct{}, 1)}
	e.start = sync.OnceValues(func() (pdfium.Pool, error) { return e.startPool(folder) })
	return e
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

// started starts the engine if necessary. When ctx ends its cause is returned, but
// the start goes on, because all documents share it.
func (e *Engine) started(ctx context.Context) (pdfium.Pool, error) {
	ready := make(chan struct{})
	go func() {
		defer close(ready)
		_, _ = e.start() // the error is kept, and returned below
	}()
	select {
	case <-ready:
		return e.start()
	case <-ctx.Done():
		return nil, context.Cause(ctx)
	}
}

func (e *Engine) startPool(folder string) (_ pdfium.Pool, err error) {
	defer contain(&err)
	code, err := interruptible(module)
	if err != nil {
		return nil, fmt.Errorf("%w to start: %w", ErrEngine, err)
	}
	config := wazero.NewRuntimeConfig().
		WithCoreFeatures(api.CoreFeaturesV2 | experimental.CoreFeaturesExceptionHandling)
	if folder != "" {
		// A folder that cannot be used costs time, not the picture.
		if cache, err := wazero.NewCompilationCacheWithDir(folder); err == nil {
			config = config.WithCompilationCache(cache)
		}
	}
	ctx := experimental.WithCompilationWorkers(context.Background(), runtime.GOMAXPROCS(0))
	pool, err := webassembly.Init(webassembly.Config{
		Context:       experimental.WithMemoryAllocator(ctx, &e.memory),
		MaxIdle:       1,
		MaxTotal:      1,
		WASM:          code,
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
		*err = fmt.Errorf("%w: it failed on this document (%v)", ErrEngine, v)
	}
}
