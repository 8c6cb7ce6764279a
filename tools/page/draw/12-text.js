// The text of a case file: where its values stand, and the same text with another value in one place. All that
// is not changed stays as it was written, comments and order too.

/** The order in which sections stand in a file; a new one goes behind those that stand before it here. */
const SECTIONS = [
  'tuft', 'device', 'room', 'photos', 'zones', 'passages', 'vents', 'leaks', 'fans', 'fins', 'sources', 'parts',
  'skin', 'spots', 'lid', 'poses', 'supports', 'loads', 'laws', 'conditions', 'sweeps', 'roles', 'claims',
  'correlations'
];

/** What names of a section's things stand under elsewhere: as a value, or as a key (".*"). */
const NAMED_BY = {
  vents: ['draws-from', 'blows-into', 'touches', 'over', 'vents', 'draws-more-than', 'gives-more-than', 'air-of',
          'recirculates.*'],
  zones: ['behind', 'draws-from', 'blows-into', 'between', 'exits-into', 'air-of', 'heats.*', 'joins.*'],
  fins: ['behind', 'blows-into', 'of', 'on', 'heats.*', 'joins.*'],
  fans: ['fans.*'],
  sources: ['sensor', 'of', 'on', 'power.*', 'joins.*'],
  skin: ['of', 'on', 'joins.*'],
  passages: []
};

/** A text as it may stand as a scalar in a map in braces; quoted where it must be. */
function asScalar(text) {
  const plain = /^[\p{L}\p{N}_.±*/+%°(^²³µ -]+$/u.test(text.replace(/[)]/g, '')) && text === text.trim() &&
      !/^[-?*%]( |$)|^[*%]|: |^$| #/.test(text);
  return plain ? text : JSON.stringify(text);
}

/** Values as they stand in one line: lists in brackets, maps in braces. */
function asFlow(value) {
  if (Array.isArray(value)) return '[' + value.map(asFlow).join(', ') + ']';
  if (value && typeof value === 'object')
    return '{' + Object.entries(value).map(([key, v]) => asScalar(key) + ': ' + asFlow(v)).join(', ') + '}';
  return asScalar(String(value));
}

class CaseText {
  constructor(text) {
    this.text = text;
    this.lineCounter = new YAML.LineCounter();
    this.document = YAML.parseDocument(text, {
      schema: 'failsafe',
      uniqueKeys: false,
      merge: false,
      prettyErrors: false,
      lineCounter: this.lineCounter
    });
  }

  /** What the parser can't read, in its own words: {line, column, message}; null: nothing. */
  fault() {
    const error = this.document.errors.find((e) => e.code !== 'DUPLICATE_KEY');
    return error ? {...this.spot(error.pos ? error.pos[0] : 0), message: error.message} : null;
  }

  /** Line and column of an offset, from 1; columns count characters. */
  spot(offset) {
    const {line, col} = this.lineCounter.linePos(offset);
    const start = offset - (col - 1);
    return {line, column: Array.from(this.text.slice(start, offset)).length + 1};
  }

  /** What board.hpp calls events. */
  events() {
    const events = [];
    const at = (node, kind) => {
      const {line, column} = this.spot(node.range[0]);
      return [kind, line, column];
    };
    const walk = (node, key) => {
      if (YAML.isAlias(node)) return events.push(at(node, 'a'));
      if (!node || (YAML.isScalar(node) && node.source === '' && node.type === 'PLAIN')) {
        return events.push(node && node.range ? at(node, 'n') : ['n', 1, 1]);
      }
      if (YAML.isScalar(node)) {
        const event = [...at(node, 't'), String(node.value)];
        if (node.tag && !/^tag:yaml.org,2002:str$/.test(node.tag)) event.push(node.tag);
        return events.push(event);
      }
      const isMap = YAML.isMap(node);
      events.push(at(node, isMap ? 'm' : 'l'));
      for (const item of node.items) {
        if (isMap) walk(item.key);
        walk(isMap ? item.value : item);
      }
      events.push(['e']);
    };
    if (this.document.contents) {
      events.push(['d', 1, 1]);
      walk(this.document.contents);
    }
    return events;
  }

  // --- looking ---------------------------------------------------------------------------------

  /** The pair of a key in a map. */
  pair(map, key) {
    return YAML.isMap(map) ? map.items.find((p) => p.key && String(p.key.value) === String(key)) : undefined;
  }

  /** The node at a path of keys and indices; undefined: nothing. */
  node(path) {
    let node = this.document.contents;
    for (const key of path) {
      if (YAML.isSeq(node)) node = node.items[key];
      else {
        const pair = this.pair(node, key);
        if (!pair) return undefined;
        node = pair.value;
      }
    }
    return node;
  }

  has(path) {
    return this.node(path) !== undefined;
  }

  /** The text at a path, quotes resolved; undefined where there is no text. */
  value(path) {
    const node = this.node(path);
    return YAML.isScalar(node) && node.source !== '' ? String(node.value) : undefined;
  }

  /** Keys of the map at a path. */
  keys(path) {
    const node = this.node(path);
    return YAML.isMap(node) ? node.items.map((p) => String(p.key.value)) : [];
  }

  // --- changing: each returns a text -----------------------------------------------------------

  spliced(from, to, text) {
    return this.text.slice(0, from) + text + this.text.slice(to);
  }

  /** Where the line of an offset ends. */
  lineEnd(offset) {
    const end = this.text.indexOf('\n', offset);
    return end < 0 ? this.text.length : end;
  }

  lineStart(offset) {
    return this.text.lastIndexOf('\n', offset - 1) + 1;
  }

  /** The text with a value at a path: in the place of the one there, or else added. */
  set(path, value) {
    const node = this.node(path), written = asFlow(value);
    if (node && !(YAML.isScalar(node) && node.source === ''))
      return this.spliced(node.range[0], node.range[1], written);
    let depth = path.length - 1;
    while (depth > 0 && !this.has(path.slice(0, depth))) --depth;
    const map = depth === 0 ? this.document.contents : this.node(path.slice(0, depth));
    const key = path[depth], rest = path.slice(depth + 1);
    const nested = rest.reduceRight((inner, k) => ({[k]: inner}), value);
    return this.withKey(map, key, nested, depth === 0, path.slice(0, depth));
  }

  /** The text with a key and its value added to a map. */
  withKey(map, key, value, isTop, path) {
    if (isTop) return this.withSection(key, value);
    if (YAML.isScalar(map) && map.source === '') {  // a key with nothing behind it
      const pair = this.pair(this.node(path.slice(0, -1)) || this.document.contents, path[path.length - 1]);
      const at = this.text.indexOf(':', pair.key.range[1]) + 1;
      return this.spliced(at, at, ' ' + asFlow({[key]: value}));
    }
    if (YAML.isScalar(map)) {  // a bare word names a kind of grille, or a generic one
      const word = String(map.value), named = COVERS.includes(word) ? 'kind' : 'like';
      return this.spliced(map.range[0], map.range[1], asFlow({[named]: word, [key]: value}));
    }
    const pair = asScalar(key) + ': ' + asFlow(value);
    if (map.flow) {
      const last = map.items[map.items.length - 1];
      if (!last) return this.spliced(map.range[0], map.range[1], '{' + pair + '}');
      const end = this.endOf(last);
      return this.spliced(end, end, ', ' + pair);
    }
    const first = map.items[0].key.range[0], indent = ' '.repeat(first - this.lineStart(first));
    const end = this.lineEnd(this.endOf(map.items[map.items.length - 1]));
    return this.spliced(end, end, '\n' + indent + pair);
  }

  /** The text with a section that it lacks, behind the one that stands before it by SECTIONS. */
  withSection(key, value) {
    const isMap = value && typeof value === 'object' && !Array.isArray(value);
    const lines = isMap ? Object.entries(value).map(([k, v]) => `\n  ${asScalar(k)}: ${asFlow(v)}`).join('') :
                          ' ' + asFlow(value);
    const section = `${key}:${lines}\n`;
    const place = SECTIONS.indexOf(key), items = (this.document.contents || {}).items || [];
    const before = items.filter((p) => SECTIONS.indexOf(String(p.key.value)) < place).pop();
    if (!before) {
      const first = items[0];
      return first ? this.spliced(first.key.range[0], first.key.range[0], section) : this.text + section;
    }
    const end = this.lineEnd(this.endOf(before));
    return this.spliced(end, end, '\n' + section.slice(0, -1));
  }

  /** Where a pair ends: behind its value, or its key where it has none. */
  endOf(pair) {
    let node = pair.value;
    if (!node || (YAML.isScalar(node) && node.source === '')) return pair.key.range[1] + 1;
    while (YAML.isCollection(node) && !node.flow) {
      const last = node.items[node.items.length - 1];
      if (!last) break;
      if (YAML.isPair(last)) return this.endOf(last);
      node = last;
    }
    return node.range[1];
  }

  /** The text without what stands at a path; the map that held nothing else goes too. */
  remove(path) {
    const key = path[path.length - 1], above = path.slice(0, -1), map = this.node(above);
    const pair = this.pair(map || this.document.contents, key);
    if (!pair) return this.text;
    const parent = above.length ? map : this.document.contents;
    if (parent.items.length === 1 && above.length) return this.remove(above);
    const at = parent.items.indexOf(pair);
    if (parent.flow) {
      const from = at > 0 ? this.endOf(parent.items[at - 1]) : pair.key.range[0];
      const to = at > 0 ? this.endOf(pair) : parent.items[1].key.range[0];
      return this.spliced(from, to, '');
    }
    return this.spliced(
        this.lineStart(pair.key.range[0]), Math.min(this.lineEnd(this.endOf(pair)) + 1, this.text.length), '');
  }

  /** The text with another name for a thing of a section, wherever it is named. */
  rename(section, name, other) {
    const spots = [], named = NAMED_BY[section] || [];
    const own = this.pair(this.node([section]), name);
    if (own) spots.push(own.key.range);
    const visit = (node, key) => {
      if (YAML.isScalar(node)) {
        if (named.includes(key) && String(node.value) === name) spots.push(node.range);
        if (key === 'inputs' && String(node.value).startsWith(`${section}.${name}.`)) {
          const quote = node.type === 'PLAIN' ? 0 : 1, from = node.range[0] + quote + section.length + 1;
          spots.push([from, from + name.length]);
        }
      } else if (YAML.isMap(node)) {
        for (const pair of node.items) {
          if (named.includes(key + '.*') && String(pair.key.value) === name) spots.push(pair.key.range);
          visit(pair.value, String(pair.key.value));
        }
      } else if (YAML.isSeq(node)) {
        for (const item of node.items) visit(item, key);
      }
    };
    if (this.document.contents)
      for (const pair of this.document.contents.items)
        if (String(pair.key.value) !== section || section !== 'fans') visit(pair.value, String(pair.key.value));
    let text = this.text;
    for (const [from, to] of spots.sort((a, b) => b[0] - a[0]))
      text = text.slice(0, from) + asScalar(other) + text.slice(to);
    return text;
  }
}
