// What is redrawn when a condition is chosen: sum, standing device, table, drawing, temperatures.

function ventTable(page, result, caption) {
  const density = result.room_density_kg_m3, vents = page.results.device.vents;
  const streams = (v, out) => {
    const s = streamsOf(v, density).find((x) => x.out === out);
    return s ? flowText(s.flow) : '–';
  };
  const rows = result.vents.map(
      (v, i) =>
          [nameOf(v.vent), el('span', {class: 'together'}, vents[i].face + (v.leak ? ', seam' : '')),
           roleCell(page, v), streams(v, false), streams(v, true), percentText(v.share),
           speedText(v.face_velocity_m_s),
           ['exhaust', 'both-ways'].includes(doing(v)) ? degreesNumber(v.temperature_out_K) :
                                                         degreesNumber(v.temperature_in_K),
           pressureText(v.pressure_Pa)]);
  return table(
      caption,
      [
        'vent', 'face', 'does', numbers('in'), numbers('out'), numbers('share'), numbers('speed'),
        numbers(`air, ${units.temperature.name}`), numbers('pressure')
      ],
      rows, (i) => ({'data-row': shown(result.vents[i].vent, 200), 'data-role': doing(result.vents[i])}));
}

/** Everything with a temperature in a condition, beside its limit. */
function temperatureItems(c) {
  const items = [];
  const add = (what, name, kelvin, limit = null, note = '', hidden = false) =>
      items.push({what, name, note, hidden, value: units.temperature.of(kelvin), limit: limit ? units.temperature.of(limit) : null});
  for (const s of c.sources) {
    if (s.temperature_K === null) continue;
    const note = `${significant(s.power_W)} W of ${significant(s.asked_W)} W asked for` +
        (s.throttles_at_K ? '; the limit is where it throttles' : '') +
        (s.state === 'full' ? '' : `; ${s.state}`);
    add('source', s.source, s.temperature_K, s.throttles_at_K, note);
  }
  for (const p of c.parts) add('part', p.part, p.temperature_K);
  for (const s of c.skin) {
    const note = (s.lies_on_something ? 'out of reach; ' : '') + `touch limit for ${s.material}` +
        (s.touch_limit_source === 'seen' ? '' : ', from memory');
    add('skin', s.skin, s.temperature_K, s.touch_limit_K, note, s.lies_on_something);
  }
  for (const e of c.screen_edges)
    add('screen', 'screen edge at ' + e.vent, e.temperature_K, null,
        `in air of ${temperatureText(e.air_temperature_K)}`);
  for (const z of c.zones) add('air', 'air of ' + z.zone, z.temperature_K);
  return items;
}

function temperatureBlock(page, c) {
  const items = temperatureItems(c), room = units.temperature.of(c.room_temperature_K), unit = units.temperature.name;
  const holder = el('figure', {});
  const words = items
                    .map(
                        (i) => `${shown(i.name, 60)} ${i.value.toFixed(1)} ${unit}` +
                            (i.limit === null ? '' : `, limit ${i.limit.toFixed(0)} ${unit}`))
                    .join('; ');
  page.onResize(
      holder,
      (width) =>
          [temperatureChart(items, room, Math.min(width, 900), `Temperatures in ${shown(c.name)}: ${words}.`),
           el('figcaption', {},
              `Bars begin at the room's ${
                  room.toFixed(1)} ${unit}. A stroke marks a limit: where a chip throttles, or the published ` +
                  'touch limit. Pale bars are out of reach. This is not a safety assessment.')]);
  const rows = items.map(
      (i) =>
          [nameOf(i.name), i.what, i.value.toFixed(1), i.limit === null ? '–' : i.limit.toFixed(0), i.note]);
  return [
    holder,
    table(
        `Temperatures in ${c.name}`, ['what', 'kind', numbers(unit), numbers(`limit, ${unit}`), prose('note')],
        rows)
  ];
}

/** Whose flows are shown, where the field was solved too, and what it says of them. */
function fieldNotes(page, c) {
  const {results} = page, f = results.field;
  const said = ((results.uncertainty || {}).model || '').split('\n').filter((s) => s.startsWith(`"${c.name}": `));
  const differ = !f || f.condition !== c.name ?
      [] :
      f.network_and_field.vents.filter((v) => v.roles_differ && !v.leak)
          .map((v) => `${shown(v.vent, 80)} (${page.words.roles[v.field.role]})`);
  if (differ.length > 0) said.push(`The field gives another role to ${differ.join(', ')}; see the maps of the field.`);
  return said.length === 0 ? [] :
                             [paragraph(`Flows shown here are those of the network. ${said.join(' ')}`, 'warning')];
}

/** The photos of the case with what the vents do; light and dark alike, for a photo has one look. */
function photoFigures(page, c) {
  const number = page.results.conditions.indexOf(c);
  const figures = page.photos.map(({name, view, width, height, jpeg}, k) => {
    const signs = page.drawings.madeBefore(`photo ${k} ${number}`);
    if (!signs) return null;
    fill(signs, {class: 'photo-signs', width: null, height: null}, []);
    const img = el('img', {src: 'data:image/jpeg;base64,' + jpeg, width, height, alt: ''});
    const words = `${shown(name, 80)} in ${shown(c.name)}`, side = view === 'inside' ? 'the inside' : 'the face ' + view;
    return el(
        'figure', {class: 'photo'},
        el('div', {class: 'picture-frame', tabindex: 0, role: 'region', 'aria-label': words},
           el('div', {class: 'photo-stack'}, img, signs)),
        el('figcaption', {}, `${words}: a photo of ${side}, straightened; signs, arrows and words are computed.`));
  });
  const drawn = figures.filter(Boolean);
  return drawn.length ? [el('h3', {}, 'On the photos'), el('div', {class: 'photos'}, drawn)] : [];
}

/** All that shows one condition; filled anew by show(). */
class ConditionPart {
  constructor(page) {
    this.page = page;
    this.device = el('div', {});
    this.temperatures = el('div', {});
  }

  show(c) {
    const {results} = this.page;
    if (!c.solved) {
      this.device.replaceChildren(
          el('p', {class: 'warning'}, `${shown(c.name)} has no solution: ${shown(c.reason, 2000)}`));
      this.temperatures.replaceChildren(el('p', {}, 'Not solved.'));
      return;
    }
    const standing = el('div', {}), drawing = el('div', {});
    const caption = `${c.name}: ${c.circumstances}`, key = `condition ${results.conditions.indexOf(c)} `;
    this.page.onResize(
        standing, (width) => [standingFigure(this.page, c.name, c, width, key + 'standing', caption)]);
    this.page.onResize(drawing, (width) => [sidesFigure(this.page, c.name, c, width, key + 'sides')]);
    const facts = `${significant(c.power_W)} W, room ${temperatureText(c.room_temperature_K)}, ` +
        `${flowText(c.through_flow_kg_s / c.room_density_kg_m3)} through, with the values as written`;
    this.device.replaceChildren(
        el('p', {class: 'sum', 'data-sum': true}, shown(c.summary, 2000), ' ',
           el('span', {class: 'quiet small'}, facts)),
        ...c.warnings.map((w) => paragraph(w, 'warning')), ...fieldNotes(this.page, c),
        el('div', {class: 'beside flows'}, standing,
           ventTable(
               this.page, c,
               `What each vent does in ${
                   shown(c.name)}; flows are volumes of room air, pressures are those inside`)),
        ...photoFigures(this.page, c), el('h3', {}, 'True to scale'), drawing);
    this.temperatures.replaceChildren(
        el('p', {class: 'quiet'},
           `For ${shown(c.name)}: ${shown(c.circumstances, 200)}; choose another condition above.`),
        el('div', {class: 'beside'}, ...temperatureBlock(this.page, c)));
    this.page.fillNew();
  }
}

function conditionSwitch(results, choose) {
  const choices = results.conditions.map((c, i) => {
    const input = el('input', {type: 'radio', name: 'condition', value: i, checked: i === 0});
    input.addEventListener('change', () => choose(i));
    return el(
        'label', {class: 'choice' + (c.solved ? '' : ' unsolved')}, input,
        el('span', {class: 'face'}, nameOf(c.name, 40), el('small', {}, shown(c.circumstances, 90))));
  });
  return el(
      'fieldset', {class: 'switch'}, el('legend', {}, 'Condition: pose, surface, load'),
      el('div', {class: 'choices'}, choices));
}
