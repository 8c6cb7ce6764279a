# Writes OUT, one script that holds the YAML library in FOLDER as the constant YAML: each of its files as a function that
# gets `exports`, `module` and a `require` of its own, run when it is first asked for.
file(GLOB_RECURSE files RELATIVE "${FOLDER}" "${FOLDER}/*.js")
list(SORT files)
set(text "// The library yaml (https://eemeli.org/yaml/), copyright Eemeli Aro, under the ISC licence:
// Permission to use, copy, modify, and/or distribute this software for any purpose with or without fee is hereby
// granted, provided that the above copyright notice and this permission notice appear in all copies. THE SOFTWARE IS
// PROVIDED \"AS IS\" AND THE AUTHOR DISCLAIMS ALL WARRANTIES WITH REGARD TO THIS SOFTWARE INCLUDING ALL IMPLIED
// WARRANTIES OF MERCHANTABILITY AND FITNESS. IN NO EVENT SHALL THE AUTHOR BE LIABLE FOR ANY SPECIAL, DIRECT, INDIRECT,
// OR CONSEQUENTIAL DAMAGES OR ANY DAMAGES WHATSOEVER RESULTING FROM LOSS OF USE, DATA OR PROFITS, WHETHER IN AN ACTION
// OF CONTRACT, NEGLIGENCE OR OTHER TORTIOUS ACTION, ARISING OUT OF OR IN CONNECTION WITH THE USE OR PERFORMANCE OF THIS
// SOFTWARE.
const YAML = (() => {
const files = {}, process = {env: {}};  // written for Node, of which it asks no more
")
foreach(file IN LISTS files)
  file(READ "${FOLDER}/${file}" content)
  string(APPEND text "files['${file}'] = (exports, module, require) => {\n${content}\n};\n")
endforeach()
string(APPEND text "const loaded = {};
function load(file) {
  if (!loaded[file]) {
    loaded[file] = {exports: {}};
    const folder = file.split('/').slice(0, -1);
    files[file](loaded[file].exports, loaded[file], (asked) => {
      const way = [...folder];
      for (const step of asked.split('/'))
        if (step === '..') way.pop();
        else if (step !== '.') way.push(step);
      return load(way.join('/'));
    });
  }
  return loaded[file].exports;
}
return load('index.js');
})();
")
file(WRITE "${OUT}" "${text}")
