// What bench_progress() of bench/bench.hpp is in a browser: the host's own function.
mergeInto(LibraryManager.library, {
  bench_progress: function (stage, load, residual) {
    return Module.onProgress ? Module.onProgress(UTF8ToString(stage), load, residual) : 1;
  },
});
