// What exports.cpp expects of the page, told to the linker; the page brings its own (tools/page/web/86-solver.js).
mergeInto(LibraryManager.library, {stopped: function(words) {}});
