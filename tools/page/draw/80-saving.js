// Saving: through the program that serves this page, which reads the file again and answers; without it, as a
// download.

class Saving {
  /** `place`: where to post to; null: there is no program. */
  constructor(app, place) {
    this.app = app;
    this.place = place;
    this.saved = app.text.text;
    this.word = el('span', {class: 'saved small', role: 'status'});
    addEventListener('beforeunload', (event) => {
      if (this.changed()) event.preventDefault();
    });
  }

  changed() {
    return this.app.text.text !== this.saved || this.app.photos.changed();
  }

  draw() {
    this.word.textContent = this.changed() ? 'Not saved' : 'Saved';
    this.word.classList.toggle('unsaved', this.changed());
  }

  async save() {
    try {
      const text = this.app.text.text;
      if (this.place)
        await this.post(text);
      else
        this.download(text);
    } catch (error) {
      this.app.say(`Not saved: ${error.message}`);
    }
    this.draw();
    this.app.answers.draw();
  }

  async post(text) {
    for (const photo of this.app.photos.unsaved()) {
      await this.send('photo/' + photo.name, photo.bytes);
      photo.saved();
    }
    const answer = JSON.parse(await this.send('save', text));
    this.saved = text;
    this.app.say(answer.errors ? 'Saved, but the program refuses it:\n' + answer.errors : 'Saved, and read by the program.');
  }

  async send(what, body) {
    let reply;
    try {
      reply = await fetch(this.place + what, {method: 'POST', body, headers: {'Content-Type': 'application/octet-stream'}});
    } catch {
      throw new Error('tuft draw has ended. Start it again in another terminal, or save a copy with “Download”.');
    }
    const words = await reply.text();
    if (!reply.ok) throw new Error(words.trim());
    return words;
  }

  download(text) {
    for (const photo of this.app.photos.unsaved()) {
      offer(photo.name, photo.bytes);
      photo.saved();
    }
    offer(this.app.name, text);
    this.saved = text;
    this.app.say(`${this.app.name} was handed to the browser as a download; put it where the case lies.`);
  }
}

/** Hands bytes to the browser as a file. */
function offer(name, bytes) {
  const link = el('a', {download: name, href: URL.createObjectURL(new Blob([bytes]))});
  document.body.append(link);
  link.click();
  link.remove();
  setTimeout(() => URL.revokeObjectURL(link.href), 10000);
}
