// Photos of the faces (see 42-straighten.js for how they are laid on their face).

class Photos {
  constructor(app) {
    this.app = app;
    this.node = el('section', {class: 'photo', 'aria-label': 'Photo'});
  }
  has() {
    return false;
  }
  straight() {
    return null;
  }
  changed() {
    return false;
  }
  unsaved() {
    return [];
  }
  async open() {}
}

class OpenArea {
  node() {
    return null;
  }
}
