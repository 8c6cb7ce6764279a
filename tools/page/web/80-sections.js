// The sections of the page that do not change when a condition is chosen.

const VERDICT_SIGN = {
  holds: 'M 8 16 L 13 21 L 22 10',
  'does not hold': 'M 9 9 L 21 21 M 21 9 L 9 21',
  'undecided': 'M 9 15 H 21'
};

/** The sign of a verdict. What is only so as written has the one of a claim that was not told. */
function verdictSign(said) {
  const verdict = VERDICT_SIGN[said] ? said : 'undecided';
  const colour = {holds: '--s3', 'does not hold': '--s6', 'undecided': '--idle'}[verdict];
  const shape = verdict === 'holds' ?
      svg('circle', {cx: 15, cy: 15, r: 13.4}) :
      svg('rect', {x: 2, y: 2, width: 26, height: 26, rx: verdict === 'does not hold' ? 2 : 13});
  const root =
      svg('svg', {class: 'sign', viewBox: '0 0 30 30', 'aria-hidden': 'true'}, shape,
          svg('path', {d: VERDICT_SIGN[verdict]}));
  root.setAttribute('style', `fill: none; stroke: var(${colour}); stroke-width: 2.6; stroke-linecap: round`);
  return root;
}

function section(id, heading, ...content) {
  return el(
      'section', {id, 'aria-labelledby': id + '-heading'}, el('h2', {id: id + '-heading'}, heading),
      ...content);
}

/** Long foreign text in a paragraph that scrolls when it is very long. */
function paragraph(text, kind) {
  const long = text.length > 1200;
  return el(
      'p', {class: (kind || '') + (long ? ' clamped' : ''), tabindex: long ? 0 : null, dir: 'auto'},
      shown(text, 20000));
}

function answerSection(results, words) {
  const list = results.claims.map((claim, i) => {
    const word = words.claims[i];
    return el(
        'li', {class: 'claim', 'data-claim': shown(claim.id, 200)}, verdictSign(word.verdict),
        el('div', {class: 'say', dir: 'auto'}, shown(claim.say, 160)),
        el('div', {class: 'verdict'}, el('b', {}, word.verdict), ' ',
           el('span', {class: 'quiet sure'}, '(' + word.sure + ')')),
        el('details', {}, el('summary', {}, 'Scope and reasons'), paragraph(word.paragraph)));
  });
  if (!list.length)
    return section('answer', 'The answer', el('p', {}, 'The case makes no claims; the flows are below.'));
  const columns = list.length <= 5 ? list.length : Math.ceil(list.length / Math.ceil(list.length / 5));
  return section(
      'answer', 'The answer', el('ul', {class: 'claims', style: `--columns: ${Math.max(3, columns)}`}, list));
}

function changeTable(page, pair, density) {
  const flow = (change, end) => {
    const vent = {
      role: change['role_' + end],
      shut: change['shut_' + end],
      inflow_kg_s: change[`inflow_${end}_kg_s`],
      outflow_kg_s: change[`outflow_${end}_kg_s`]
    };
    return flowCell(page, vent, density);
  };
  return table(
      `${shown(pair.from)} and ${shown(pair.to)}: what changes`,
      ['vent', nameOf(pair.from), nameOf(pair.to), prose('why')],
      pair.changes.map((c) => [nameOf(c.vent), flow(c, 'from'), flow(c, 'to'), shown(c.because, 2000)]),
      (i) => ({class: pair.changes[i].role_changes ? 'changed' : null}));
}

function changeSentence(changes) {
  const names = (list) => list.map((c) => shown(c.vent)).join(', ');
  const roles = changes.filter((c) => c.role_changes),
        sizes = changes.filter((c) => !c.role_changes && c.size_changes);
  if (!roles.length && !sizes.length)
    return 'No vent changes its role, and no flow changes by a fifth or more.';
  return (roles.length ? `The role changes at ${names(roles)}` : 'No vent changes its role') +
      (sizes.length ? `; the flow changes by a fifth or more at ${names(sizes)}.` : '.');
}

/** Two conditions side by side, drawn and as a table. */
function pairBlock(page, pair) {
  const {conditions} = page.results, find = (name) => conditions.find((c) => c.name === name);
  const from = find(pair.from), to = find(pair.to),
        block = el('div', {'data-pair': `${shown(pair.from)} ${shown(pair.to)}`});
  const figures = el('div', {class: 'pair'});
  page.onResize(figures, (width) => {
    const each = width > 800 ? (width - 28) / 2 : width, {solver} = page.drawings;
    const alike = solver ? {largest_flow_m3_s: solver.largest([from, to])} : {};
    return [from, to].map(
        (c) => standingFigure(
            page, c.name, c, each, `condition ${conditions.indexOf(c)} standing`,
            `${c.name}: ${c.circumstances}`, alike));
  });
  block.append(
      el('h3', {}, nameOf(pair.to), ' against ', nameOf(pair.from)),
      el('p', {}, changeSentence(pair.changes)), figures, changeTable(page, pair, to.room_density_kg_m3));
  return block;
}

function comparisonSections(page) {
  const {comparisons} = page.results, key = (p) => p.from + '\n' + p.to;
  const soft = comparisons.filter((p) => p.kind === 'soft-surface'), seen = new Set(soft.map(key));
  const rest = comparisons.filter((p) => p.kind === 'claim' && !seen.has(key(p)) && seen.add(key(p)));
  const blocks = (pairs) => pairs.map((p) => pairBlock(page, p));
  return [
    soft.length && section('soft', 'What a soft surface changes', ...blocks(soft)),
    rest.length &&
        section(
            'against', 'One condition against another',
            el('p', {class: 'quiet'},
               'Pairs of conditions that a claim compares, such as the bench and use. What is seen in one ' +
                   'need not hold in the other.'),
            ...blocks(rest))
  ];
}

function assumedSection(results) {
  const rows = results.assumptions.map(
      (a) =>
          [el('span', {class: 'mono'}, shown(a.key, 120)), shown(String(a.value), 80),
           shown(a.sentence, 600)]);
  if (!rows.length)
    return section('assumed', 'What was assumed', el('p', {}, 'Nothing: the case file states every value.'));
  return section(
      'assumed', 'What was assumed',
      el('p', {},
         `${rows.length} values are not in the case file. Each was set to a ` +
             'default; measure the ones that matter to you.'),
      folded(
          `All ${rows.length} of them`,
          table(
              'Values that the case file does not state',
              ['key', 'value', prose('what it is, and why this value')], rows)));
}

const place = (p) => (p ? `${p.kind} ${shown(p.name, 40)}` : '');

function makerSection(results) {
  const {device} = results, lengths = (list) => list.map(lengthNumber).join(' × '),
                    unit = units.length.name;
  const vents = table(
      'Vents as entered: positions from the front-left-base corner, x to the right, y to the rear, z up',
      ['vent', 'face', numbers(`centre, ${unit}`), numbers(`size, ${unit}`), 'cover', numbers('open'), 'behind it'],
      device.vents.map(
          (v) =>
              [nameOf(v.name), v.face, lengths(v.centre_m).replaceAll(' × ', ', '), lengths(v.size_m), v.cover,
               v.leak ? '' : percentText(v.open_ratio), place(v.behind)]));
  const fans = tableOfAny(
      'Fans', ['fan', 'kind', numbers(`diameter, ${unit}`), numbers('full speed, rpm'), 'from', 'into', 'curve'],
      device.fans.map(
          (f) =>
              [nameOf(f.name), f.kind, lengthNumber(f.diameter_m), Math.round(60 * f.full_speed_rev_s),
               place(f.draws_from), place(f.blows_into),
               f.curve_given ? 'given' : 'estimated from kind, size and speed']));
  const text = results.case.text ?
      folded(
          'The case file, word for word',
          el('pre', {tabindex: 0, 'aria-label': 'case file'}, results.case.text)) :
      null;
  return section(
      'maker', 'For the maker',
      el('p', {},
         'The inputs behind every number on this page. If one is wrong, name it: ' +
             'the case can then be solved again.'),
      el('dl', {class: 'facts'}, el('dt', {}, 'device'), el('dd', {}, nameOf(device.name, 120)),
         el('dt', {}, 'size'),
         el('dd', {}, `${lengths(device.size_m)} ${unit}, feet ${lengthNumber(device.feet_m)} ${unit}`)),
      vents, fans, text);
}

function methodSection(results) {
  const t = results.thresholds;
  return section(
      'method', 'Method, sources and cautions',
      el('p', {},
         'The device is a network of spaces joined by vents, passages, fins and fans. In each space the air is ' +
             'assumed to be well mixed. Pressures and flows follow from mass balances in every space, published loss laws ' +
             'of openings, fan curves and the weight of warm and cold air; temperatures from heat balances. The ' +
             'state shown is the steady state that a device reaches when it is switched on cold. Every equation, with its ' +
             'source, is in docs/theory.md of the program; docs/verification.md lists what ' +
             'was checked, and against which sources.'),
      el('p', {},
         `A vent counts as idle when it carries less than ${
             percentText(t.idle_share)} of the air and its air moves slower ` +
             `than ${speedText(t.idle_velocity_m_s)}, or slower than ${
                 speedText(t.still_velocity_m_s)} in any case; it breathes both ways ` +
             `when the smaller of its two flows is at least ${
                 percentText(t.both_ways_ratio)} of the larger. A close call is a role that ` +
             `would change if a threshold were ${
                 significant(t.margin, 2)} times as large or as small. These thresholds are judgements.`),
      el('p', {},
         'Touch limits are those of IEC 62368-1 (TS1) for material and contact time, as far as public texts show them; those ' +
             'marked are from memory. They are shown beside the computed skin temperatures; this is not a safety assessment.'),
      el('p', {class: 'warning'}, shown(results.caution, 2000)));
}

function provenanceSection(results) {
  const rows = results.conditions.map(
      (c) =>
          [nameOf(c.name), c.solved ? 'yes' : 'no', c.iterations, c.solved ? c.residual.toExponential(1) : '',
           c.solved ? closureText(c.balance.mass) : '', c.solved ? closureText(c.balance.energy) : '']);
  const facts = [
    ['program', `${results.program.name} ${results.program.version}`],
    ['case file', shown(results.case.file, 120)],
    ['SHA-256 of the case', el('span', {class: 'mono'}, results.case.sha256)],
    [
      'seed',
      results.uncertainty && results.uncertainty.seed !== undefined ? results.uncertainty.seed :
                                                                      'none: this page uses no random numbers'
    ]
  ];
  return section(
      'provenance', 'Provenance',
      el('dl', {class: 'facts'}, facts.flatMap(([k, v]) => [el('dt', {}, k), el('dd', {}, v)])),
      table(
          'How each condition was solved: scaled residual, and errors of the mass and heat balances (shares of the flow and the power)',
          [
            'condition', 'solved', numbers('iterations'), numbers('residual'), numbers('mass'),
            numbers('heat')
          ],
          rows));
}
