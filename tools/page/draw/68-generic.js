// Generic things: what may stand for numbers that nobody knows, by name (`like: blower-50`). What a person has
// typed counts instead of what a thing gives; the reader sees to that.

/** The list of each section, and where its things name one. */
const GENERIC = {
  vents: ['covers', ['cover', 'like']],
  fans: ['fans', ['like']],
  fins: ['fins', ['like']]
};

/** A field that offers the generic things of a section; null: it has none. */
function genericField(app, section, path) {
  if (!GENERIC[section]) return null;
  const [list, key] = GENERIC[section];
  return {label: section === 'vents' ? 'Looks like' : 'Is like', path: [...path, ...key], generic: app.generic[list] || []};
}

/** The name of a generic thing that is written at a field's path; a grille's may be a bare word. */
function genericNow(text, {path, generic}) {
  const written = text.value(path), bare = path[path.length - 2] === 'cover' ? text.value(path.slice(0, -1)) : undefined;
  return written ?? (generic.some(({name}) => name === bare) ? bare : '');
}

/** The text with another generic thing, or with none (''). */
function withGeneric(text, {path, generic}, name) {
  const thing = path.slice(0, -1), kind = [...thing, 'kind'], isCover = thing[thing.length - 1] === 'cover';
  const given = generic.find((one) => one.name === name);
  if (isCover && text.value(thing) !== undefined) return text.set(thing, name || 'perforated');
  if (!given) return withEntries(text, [[path, undefined], ...(isCover && !text.has(kind) ? [[kind, 'perforated']] : [])]);
  // A kind that contradicts the thing goes; numbers that were typed stay.
  const contradicts = text.has(kind) && text.value(kind) !== given.gives.kind;
  return withEntries(text, [[path, name], ...(contradicts ? [[kind, undefined]] : [])]);
}

/** The control of such a field. */
function genericChoice(app, field, id) {
  const now = genericNow(app.text, field), known = field.generic.find(({name}) => name === now);
  const option = ({name, says}) => el('option', {value: name, selected: name === now}, `${name}: ${says}`);
  const select = el('select', {id, title: known ? `${known.says} (${known.why})` : null},
                    el('option', {value: '', selected: now === ''}, 'nothing by name'), field.generic.map(option));
  select.addEventListener('change', () => app.change(withGeneric(app.text, field, select.value)));
  return select;
}

/** The text with the condition shown laid on a generic support too, and the new condition's name. */
function withSupport(text, conditions, shown, support) {
  const name = `${shown.name}-${support}`, path = ['conditions', shown.name];
  const written = text.keys(path).map((key) => [key, text.value([...path, key])]).filter(([, value]) => value !== undefined);
  const added = {pose: shown.pose, load: shown.load, ...Object.fromEntries(written), support};
  const entries = [];
  if (!text.has(['supports', support])) entries.push([['supports', support], {like: support}]);
  // Where a file lists no conditions it has all combinations; they are written out, so that they stay.
  if (!text.has(['conditions']))
    for (const {name: own, pose, support: on, load} of conditions) entries.push([['conditions', own], {pose, support: on, load}]);
  if (!text.has(['conditions', name])) entries.push([['conditions', name], added]);
  return {text: withEntries(text, entries), name};
}
