// The scale drawing as a figure, with its words.

/** One sentence a vent: the drawing in words. */
function ventSentences(device, result) {
  const density = result.room_density_kg_m3;
  return device.vents.map((vent, i) => ({vent, r: result.vents[i]}))
      .filter(({vent}) => !vent.leak)
      .map(
          ({vent, r}) => `${shown(vent.name)} (${vent.face}): ${ROLE_WORDS[doing(r)]}` +
              (streamsOf(r, density).length ?
                   `, ${flowWords(r, density)}, ${percentText(r.share)} of the air` :
                   '') +
              '.')
      .join(' ');
}

/** The drawing as a figure with its words. */
function deviceFigure(device, result, poseToWorld, width, what) {
  const drawing = new DeviceDrawing(device, result, downOf(poseToWorld), width);
  const root = drawing.draw();
  root.setAttribute(
      'aria-label',
      `${shown(device.name)} drawn to scale from six sides, ${what}. ${ventSentences(device, result)}`);
  const left =
      drawing.leftOut.length ? ` No room to write at: ${drawing.leftOut.join(', ')}; see the table.` : '';
  return el(
      'figure', {class: 'drawing'}, root, roleKey(result.vents),
      el('figcaption', {}, `All views to one scale; the ring in each shows where gravity points.${left}`));
}
