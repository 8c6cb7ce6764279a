// Sections that are there when the results hold them: field maps, doubt, bench.

function optionalSections() { return []; }
