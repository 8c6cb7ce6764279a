// Sections that are there when the results hold them: bench, field maps, doubt, warm-up.

const roleOnly = (role) =>
    el('span', {class: 'together role-' + role}, inlineMark(role),
       el('span', {class: 'role-name'}, ROLE_WORDS[role] || role));
// Of the values as written, which say nothing of how sure: no verdicts.
const AS_WRITTEN = {
  holds: 'true as written',
  fails: 'not true as written',
  'cannot-tell': 'left open as written'
};

const byHand = (view) => String(view.by_hand.finding).replaceAll('-', ' ');

function benchSection(results) {
  const b = results.bench;
  if (!b) return null;
  const vents =
      (b.vents || [])
          .map(
              (v) =>
                  [nameOf(v.vent), roleOnly(v.role_use), roleOnly(v.role_bench),
                   v.by_hand ? `${byHand(v)}; right with ${probabilityText(v.by_hand.right)}` : '–',
                   shown(v.because, 1000), (v.traps || []).map((t) => shown(t.sentence, 600)).join('; ')]);
  const claims =
      (b.claims || [])
          .map(
              (c) =>
                  [nameOf(c.id), AS_WRITTEN[c.in_use], AS_WRITTEN[c.going_by_the_bench], shown(c.because, 1000)]);
  return section(
      'bench', 'Bench against use',
      el('p', {}, `Bench: ${shown(b.bench.circumstances, 200)}. Use: ${shown(b.use.circumstances, 200)}.`),
      b.set_up ? el('p', {}, el('b', {}, 'A set-up that shows what is so: '), shown(b.set_up.words, 1500)) :
                 null,
      ...pictures(results, 'bench'),
      table(
          'Each vent in use and on the bench, and what a strip held by hand would tell',
          [
            {head: 'vent'}, {head: 'in use'}, {head: 'on the bench'}, {head: 'a strip held by hand'},
            {head: 'why', kind: 'words'}, {head: 'mind', kind: 'words'}
          ],
          vents, (i) => ({class: b.vents[i].role_changes ? 'changed' : null})),
      claims.length ?
          table(
              'Claims in use, and going by the bench (with the values as written)',
              [{head: 'claim'}, {head: 'in use'}, {head: 'going by the bench'}, {head: 'why', kind: 'words'}],
              claims) :
          null);
}

function fieldSection(results) {
  const f = results.field;
  if (!f) return null;
  const density =
      (results.conditions.find((c) => c.name === f.condition) || results.conditions[0]).room_density_kg_m3;
  const rows = ((f.agreement || {}).vents || [])
                   .filter((v) => !v.leak)
                   .map(
                       (v) =>
                           [nameOf(v.vent),
                            ...['network', 'field'].map(
                                (side) =>
                                    el('span', {class: roleClass(v[side])}, inlineMark(doing(v[side])),
                                       flowWords(v[side], density))),
                            percentText(Math.abs(v.flow_apart_of_through_flow)),
                            significant(v.temperature_apart_K, 2, 1)]);
  const ended = f.end === 'converged' ? 'It converged.' :
                                        `It ended as "${shown(f.end)}": ${shown(f.message || '', 600)}`;
  return section(
      'field', 'Maps of the field',
      el('p', {},
         `Air computed over the plan of the device in "${shown(f.condition)}", layer by layer: ` +
             `where it goes, and where it stands. ${ended}`),
      el('div', {class: 'pair'}, ...pictures(results, 'field'), ...pictures(results, 'section')),
      mapTable(results),
      table(
          'Vents by the network and by the field; apart: net flow over the through-flow, and K',
          [
            {head: 'vent'}, {head: 'network'}, {head: 'field'}, {head: 'flow apart', kind: 'number'},
            {head: 'apart, K', kind: 'number'}
          ],
          rows),
      ...sliceTables(results));
}

/** How sure each vent's role is in one condition, and how far its flow may be off. */
function rangesOf(results, ranges) {
  const solved = results.conditions.find((c) => c.name === ranges.condition);
  const density = solved && solved.solved ? solved.room_density_kg_m3 : 1.2;
  const flow = (net) => (net < 0 ? 'out ' : 'in ') + flowText(Math.abs(net) / density);
  const rows = ranges.vents.map((v) => [
    nameOf(v.vent), ...['intake', 'exhaust', 'both-ways', 'idle'].map((role) => probabilityText(v[role])),
    flow(v.net_in_median_kg_s), v.net_in_interval_kg_s.map(flow).join(' to ')
  ]);
  return folded(
      `How sure each vent's role is in "${shown(ranges.condition)}"`,
      table(
          `Probability of each role in "${shown(ranges.condition)}", and the net flow (volume of room air)`,
          [
            {head: 'vent'}, {head: 'takes in', kind: 'number'}, {head: 'lets out', kind: 'number'},
            {head: 'both ways', kind: 'number'}, {head: 'next to nothing', kind: 'number'},
            {head: 'net flow', kind: 'number'}, {head: 'nine in ten', kind: 'number'}
          ],
          rows));
}

function doubtSection(results) {
  const d = results.doubt;
  if (!d || !Array.isArray(d.claims)) return null;
  const known = d.claims.filter((c) => typeof c.probability === 'number');
  const names = (h) => (h.rest ? 'all the rest' : (h.inputs || []).map((k) => shown(k, 80)).join(' with '));
  // A total index where a plan was computed for it, else the first-order one that the sample itself tells.
  const share = (h) => (typeof h.total === 'number' ? h.total : h.first);
  const hangs = (c) => (c.hangs_on || [])
                           .filter((h) => share(h) >= 0.01)
                           .sort((a, b) => (a.rest ? 1 : 0) - (b.rest ? 1 : 0) || share(b) - share(a))
                           .slice(0, 4)
                           .map((h) => `${names(h)} ${percentText(Math.min(share(h), 1))}`)
                           .join('; ') ||
      '–';
  const planned = d.hangs_on_from !== 'sample';
  const next = (d.measure_next || [])
                   .slice(0, 5)
                   .map((m) => [shown(m.what, 200), significant(m.drop_bit, 2, 3), shown(m.how, 600)]);
  const answers = known.length ?
      table(
          'Probability of each claim, and the share of its doubt that ' +
              (planned ? 'depends on an input, alone and together with others (total index)' :
                         'would go if an input were known (first-order index)'),
          [
            {head: 'claim'}, {head: 'probability', kind: 'number'}, {head: '99 % interval', kind: 'number'},
            {head: 'depends most on', kind: 'words'}
          ],
          known.map(
              (c) =>
                  [nameOf(c.id), probabilityText(c.probability, c.probability_interval),
                   intervalText(c.probability_interval), hangs(c)])) :
      null;
  const inputs = (d.inputs || []).length, assumed = (d.inputs || []).filter((i) => i.assumed).length;
  return section(
      'doubt', 'How sure, and what it depends on',
      el('p', {},
         inputs ? `${d.samples} devices within what the inputs allow were computed (seed ${d.seed}); ` +
                 `${inputs} values are in doubt, ${assumed} of them assumed. A claim holds when it is true in at ` +
                 'least 95 % of these devices, and does not when it is true in 5 % or less.' :
                  'No value of the case is in doubt.'),
      d.model ? el('p', {}, shown(d.model, 1200)) : null, answers,
      next.length ?
          table(
              'What to measure next, by how much it would settle',
              [{head: 'measure'}, {head: 'bit settled', kind: 'number'}, {head: 'how', kind: 'words'}],
              next) :
          null,
      ...(d.conditions || []).filter((c) => c.vents.length && inputs).map((c) => rangesOf(results, c)));
}

function warmupSection(results) {
  const w = results.warmup;
  if (!w) return null;
  const soak = w.soak_s === null ? 'How long it has to soak is not known.' :
                                   `It has to soak ${significant(w.soak_s / 60, 2, 0)} min ` +
          'before a measurement shows the steady state.';
  return section(
      'warmup', 'Warming up',
      el('p', {}, `${shown(w.condition)}: ${shown(w.circumstances || '', 200)}. ${soak}`),
      ...pictures(results, 'warmup'),
      table(
          'Temperatures on the way',
          [
            {head: 'part'}, {head: 'start, °C', kind: 'number'}, {head: 'hottest, °C', kind: 'number'},
            {head: 'end, °C', kind: 'number'}
          ],
          (w.parts ||
           []).map((p) => [nameOf(p.name), celsius(p.start_K), celsius(p.hottest_K), celsius(p.end_K)])));
}

function optionalSections(page) {
  return [benchSection, fieldSection, doubtSection, warmupSection].map((make) => make(page.results));
}
