// Sections that are there when the results hold them: bench, field maps, doubt, warm-up.

const DARK_RULE = '@media screen and (prefers-color-scheme:dark)';
const shownPictures = [];

/**
 * A picture in an img element runs nothing and loads nothing; nor does it see what the page's button chose.
 */
function pictureAddress(text) {
  const theme = document.documentElement.dataset.theme;
  const rule = {dark: '@media screen', light: '@media not all'}[theme] || DARK_RULE;
  return 'data:image/svg+xml;charset=utf-8,' + encodeURIComponent(text.replace(DARK_RULE, rule));
}

/** Light or dark as the page is now. */
function themePictures() {
  for (const {img, text} of shownPictures) img.src = pictureAddress(text);
}

/** Figures that came with a section; on a narrow screen they can be moved sideways. */
function pictures(results, section) {
  return (results.figures || []).filter((f) => f.section === section).map((f) => {
    const parsed = new DOMParser().parseFromString(f.svg, 'image/svg+xml'), part = (tag) => {
      const node = parsed.querySelector(tag);
      return node ? node.textContent : '';
    };
    const title = shown(part('title') || f.file, 200), words = shown(part('desc'), 1500);
    const img = el('img', {src: pictureAddress(f.svg), alt: words});
    shownPictures.push({img, text: f.svg});
    return el(
        'figure', {class: 'picture'},
        hinted(el('div', {class: 'picture-frame', tabindex: 0, role: 'region', 'aria-label': 'picture'}, img)),
        // Read aloud once: with the picture.
        el('figcaption', {}, el('b', {}, title), '. ', el('span', {'aria-hidden': 'true'}, words)));
  });
}

/** "the air inside", for the name of a layer. */
function layerName(name) {
  const storey = /^inside-(\d+)$/.exec(name);
  if (storey) return 'the air inside, storey ' + storey[1];
  return {
    inside: 'the air inside',
    'gap-base': 'the gap under the base',
    'gap-top': 'the gap over the top',
    section: 'the cross-section with the air around'
  }[name] ||
      shown(name);
}

/** What the maps show, in numbers: between what their colours run. */
function mapTable(results) {
  const layers = ((results.field || {}).layers || []).filter((l) => l.hottest_K !== undefined);
  const slice = results.section && results.section.hottest_K !== undefined ?
      [{name: 'section', ...results.section}] :
      [];
  const rows = [...layers, ...slice].map(
      (l) =>
          [layerName(l.name), l.cells.join(' × '), degreesNumber(l.coolest_K), degreesNumber(l.hottest_K),
           speedText(l.fastest_m_s)]);
  return tableOfAny(
      'What the maps show: the coolest, the hottest and the fastest air in each',
      ['map of', numbers('cells'), numbers(`coolest, ${units.temperature.name}`), numbers(`hottest, ${units.temperature.name}`), numbers('fastest')], rows);
}

/** The slice in numbers: the vents it cuts, and what intakes draw again. */
function sliceTables(results) {
  const s = results.section;
  if (!s) return [];
  const leaks = new Set(results.device.vents.filter((v) => v.leak).map((v) => v.name));
  const cut = (s.vents || []).filter((v) => v.cut === 'cut' && !leaks.has(v.vent));
  const again = (s.recirculation || []).filter((r) => !leaks.has(r.intake) && !leaks.has(r.outlet));
  const solved = results.conditions.find((c) => c.name === s.condition) || results.conditions[0] || {};
  const perLength = `${units.flow.name} per ${units.metre.name}`;
  const per = (flow) =>
      (flow > 0 ? significant(units.flow.of(flow / (solved.room_density_kg_m3 || 1.2)) / units.metre.of(1), 2, 4) : '–');
  return [
    el('p', {class: 'quiet'},
       `The cross-section: ${shown(s.why || '', 300)}. ${
           (s.notes || []).map((n) => shown(n, 300)).join(' ')}`),
    tableOfAny(
        'Vents that the cross-section cuts; flows are of room air and per length across it',
        ['vent', numbers(`in, ${perLength}`), numbers(`out, ${perLength}`), numbers('speed'),
          numbers(`drawn air, ${units.temperature.name}`)],
        cut.map(
            (v) =>
                [nameOf(v.vent), per(v.inflow_kg_s_m), per(v.outflow_kg_s_m), speedText(v.speed_m_s),
                 v.inflow_kg_s_m > v.outflow_kg_s_m ? degreesNumber(v.drawn_K) : '–'])),
    tableOfAny(
        'Recirculation: share of the air drawn by an intake that has just come out of an outlet',
        ['intake', 'outlet', numbers('share')],
        again.map((r) => [nameOf(r.intake), nameOf(r.outlet), percentText(r.fraction)]))
  ];
}


const byHand = (view) => String(view.by_hand.finding).replaceAll('-', ' ');

function benchSection(page) {
  const {results, words} = page, b = results.bench;
  if (!b) return null;
  const vents =
      (b.vents || [])
          .map(
              (v, i) =>
                  [nameOf(v.vent), roleOnly(page, v.role_use), roleOnly(page, v.role_bench),
                   v.by_hand ? `${byHand(v)}; right with a probability of ${words.bench[i]}` : '–',
                   shown(v.because, 1000), (v.pitfalls || []).map((t) => shown(t.sentence, 600)).join('; ')]);
  const claims = (b.claims || [])
                     .map(
                         (c) =>
                             [nameOf(c.id), words.as_written[c.in_use],
                              words.as_written[c.going_by_the_bench], shown(c.because, 1000)]);
  return section(
      'bench', 'Bench against use',
      el('p', {}, `Bench: ${shown(b.bench.circumstances, 200)}. Use: ${shown(b.use.circumstances, 200)}.`),
      b.setup ?
          el('p', {}, el('b', {}, 'A set-up that shows what is true in use: '), shown(b.setup.words, 1500)) :
          null,
      ...pictures(results, 'bench'),
      table(
          'Each vent in use and on the bench, and what a strip held by hand would show',
          ['vent', 'in use', 'on the bench', 'a strip held by hand', prose('why'), prose('pitfalls')], vents,
          (i) => ({class: b.vents[i].role_changes ? 'changed' : null})),
      tableOfAny(
          'Claims in use, and as the bench would show them (with the values as written)',
          ['claim', 'in use', 'by the bench', prose('why')], claims));
}

function fieldSection(page) {
  const {results} = page, f = results.field;
  if (!f) return null;
  const density =
      (results.conditions.find((c) => c.name === f.condition) || results.conditions[0]).room_density_kg_m3;
  const rows =
      ((f.network_and_field || {}).vents || [])
          .filter((v) => !v.leak)
          .map(
              (v) =>
                  [nameOf(v.vent), ...['network', 'field'].map((side) => flowCell(page, v[side], density)),
                   percentText(Math.abs(v.flow_apart_of_through_flow)),
                   significant(units.temperature.factor * v.temperature_apart_K, 2, 1)]);
  const ended = f.end === 'converged' ? 'It converged.' :
                                        `It ended as "${shown(f.end)}": ${shown(f.message || '', 600)}`;
  return section(
      'field', 'Maps of the field',
      el('p', {},
         `Air in the plan of the device in "${shown(f.condition)}", layer by layer: ` +
             `where it flows, and where it is still. ${ended}`),
      el('div', {class: 'pair maps'}, ...pictures(results, 'field'), ...pictures(results, 'section')),
      mapTable(results),
      table(
          'Vents by the network and by the field; difference of net flow relative to the through-flow, and of temperature',
          ['vent', 'network', 'field', numbers('flow difference'), numbers(`difference, ${units.temperature.name}`)], rows),
      ...sliceTables(results));
}

/** Probability of each vent's role in one condition, and how far its flow may be off. */
function rangesOf(results, ranges, probabilities) {
  const solved = results.conditions.find((c) => c.name === ranges.condition);
  const density = solved && solved.solved ? solved.room_density_kg_m3 : 1.2;
  const flow = (net) => (net < 0 ? 'out ' : 'in ') + flowText(Math.abs(net) / density);
  const rows = ranges.vents.map(
      (v, i) =>
          [nameOf(v.vent),
           ...['intake', 'exhaust', 'both-ways', 'idle'].map((role) => probabilities[i][role]),
           flow(v.net_in_median_kg_s), v.net_in_interval_kg_s.map(flow).join(' to ')]);
  return folded(
      `Probability of each vent's role in "${shown(ranges.condition)}"`,
      table(
          `Probability of each role in "${shown(ranges.condition)}", and the net flow (volume of room air)`,
          [
            'vent', numbers('takes in'), numbers('lets out'), numbers('both ways'),
            numbers('next to nothing'), numbers('net flow'), numbers('nine in ten')
          ],
          rows));
}

function doubtSection(page) {
  const {results} = page, words = page.words.uncertainty, d = results.uncertainty;
  if (!d || !Array.isArray(d.claims)) return null;
  const known = d.claims.map((c, i) => ({...c, words: words.claims[i]}))
                    .filter((c) => typeof c.probability === 'number');
  const names = (h) => (h.rest ? 'all the rest' : (h.inputs || []).map((k) => shown(k, 80)).join(' with '));
  // A total index where a plan was computed for it, else the first-order one that the sample itself tells.
  const share = (h) => (typeof h.total === 'number' ? h.total : h.first);
  const hangs = (c) => (c.sensitivity || [])
                           .filter((h) => share(h) >= 0.01)
                           .sort((a, b) => (a.rest ? 1 : 0) - (b.rest ? 1 : 0) || share(b) - share(a))
                           .slice(0, 4)
                           .map((h) => `${names(h)} ${percentText(Math.min(share(h), 1))}`)
                           .join('; ') ||
      '–';
  const fromModel = (c) => {
    const part = c.uncertainty_from && c.uncertainty_from.model;
    return part ? percentText(Math.min(Math.max(part.share, 0), 1)) : '–';
  };
  const planned = d.sensitivity_method !== 'sample';
  const next =
      (d.measurements || [])
          .slice(0, 5)
          .map((m) => [shown(m.what, 200), significant(m.information_gain_bit, 2, 3), shown(m.how, 600)]);
  const answers = tableOfAny(
      'Probability of each claim, and the share of its uncertainty that ' +
          (planned ? 'depends on an input, alone and together with others (total index)' :
                     'would vanish if an input were known (first-order index)'),
      [
        'claim', numbers('probability'), numbers('99 % interval'), numbers("the model's part"),
        prose('depends most on')
      ],
      known.map((c) => [nameOf(c.id), c.words.probability, c.words.interval, fromModel(c), hangs(c)]));
  const inputs = (d.inputs || []).length, values = (d.inputs || []).filter((i) => i.about !== 'model');
  const laws = inputs - values.length, assumed = values.filter((i) => i.assumed).length;
  return section(
      'uncertainty', 'Probability, and what it depends on',
      el('p', {},
         inputs ?
             `${d.samples} devices within the uncertainty of the inputs were computed (seed ${d.seed}); ` +
                 `${values.length} values are uncertain, ${assumed} of them assumed, ` +
                 (laws ? `and ${laws} factors on the laws of the model. A claim` :
                         'and the laws of the model are taken as exact. A claim') +
                 ' holds if it is true in at ' +
                 'least 95 % of these devices, and does not if it is true in 5 % or less.' :
             'No value of the case is uncertain.'),
      ...(d.model || '').split('\n').filter(Boolean).map((line) => el('p', {}, shown(line, 600))), answers,
      tableOfAny(
          'What to measure next, by information gain',
          ['measure', numbers('information gain, bit'), prose('how')], next),
      ...(d.conditions || [])
          .map((c, i) => (c.vents.length && inputs ? rangesOf(results, c, words.conditions[i]) : null))
          .filter(Boolean));
}

function warmupSection({results}) {
  const w = results.warmup;
  if (!w) return null;
  const soak = w.soak_s === null ? 'The soak time is not known.' :
                                   `The device must soak ${significant(w.soak_s / 60, 2, 0)} min ` +
          'before a measurement shows the steady state.';
  return section(
      'warmup', 'Warming up',
      el('p', {}, `${shown(w.condition)}: ${shown(w.circumstances || '', 200)}. ${soak}`),
      ...pictures(results, 'warmup'),
      table(
          'Temperatures during warm-up',
          ['part', ...['start', 'hottest', 'end'].map((when) => numbers(`${when}, ${units.temperature.name}`))],
          (w.parts ||
           []).map((p) => [nameOf(p.name), degreesNumber(p.start_K), degreesNumber(p.hottest_K), degreesNumber(p.end_K)])));
}

function optionalSections(page) {
  return [benchSection, fieldSection, doubtSection, warmupSection].map((make) => make(page));
}
