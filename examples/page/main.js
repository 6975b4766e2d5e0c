/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The page: tabs, files, and what survives a reload. */
const KEPT = 'tipcrest';

class Page {
    constructor(engine, root) {
        this.engine = engine;
        this.root = root;
        this.surveys = {};
        this.fileName = 'set.json';
        this.reading = 0; /* files that are being opened */
        this.voice = new Voice(document.getElementById('voice'));
        this.teach = new Teach(this);
        this.consult = new Consult(this);
        this.works = {teach: this.teach, consult: this.consult};
        this.tab = 'teach';
        this.started = false; /* until then nothing is drawn, so that the first picture is drawn once */
        this.build();
        this.restore();
    }

    build() {
        const files = WORDS.files;
        this.picker = make('input', {type: 'file', multiple: true, accept: '.json,.csv,application/json,text/csv', hidden: true,
            'aria-label': files.what, onchange: () => this.openFiles(this.picker.files)});
        this.area = make('textarea', {rows: 18, spellcheck: 'false', 'aria-label': files.textLabel});
        this.areaProblem = make('p', {class: 'problem', role: 'alert'});
        this.dialog = make('dialog', {'aria-label': files.textLabel}, make('p', {class: 'note'}, files.note), this.area, this.areaProblem,
            make('div', {class: 'bar'}, button(files.use, () => this.useText()), button(files.close, () => this.dialog.close())));
        this.tabs = Object.keys(this.works).map(name => make('button', {type: 'button', role: 'tab', id: 'tab-' + name, 'aria-controls': name,
            onclick: () => this.go(name), onkeydown: event => this.tabKey(event)}, WORDS.tabs[name]));
        const head = make('header', {}, make('h1', {}, WORDS.name),
            make('div', {role: 'tablist', 'aria-label': WORDS.tabList}, ...this.tabs),
            make('nav', {'aria-label': files.title}, button(files.open, () => this.picker.click()), button(files.save, () => this.save(), {'data-file': 'save'}),
                button(files.saveSurvey, () => this.saveSurvey(), {'data-file': 'survey'}), button(files.copy, () => this.copy()),
                button(files.text, () => this.showText(), {'data-file': 'text'})), this.picker);
        const foot = make('footer', {}, make('h2', {}, WORDS.cautionsTitle),
            make('ul', {class: 'cautions'}, ...WORDS.cautions.map(text => make('li', {}, text))),
            make('p', {class: 'note'}, `${WORDS.assumedNote} ${WORDS.drawn} ${WORDS.keys}`),
            make('p', {class: 'note'}, `${WORDS.offline} ${files.note} ${WORDS.version(this.engine.version())}`));
        this.main = make('main', {}, ...Object.values(this.works).map(work => work.element));
        this.root.replaceChildren(head, this.main, foot, this.dialog);
        let wide = 0;
        new ResizeObserver(([entry]) => { /* of the pictures, each has told its own by then */
            const {width} = entry.contentRect;
            if (wide > 0 && width > 0 && width !== wide)
                this.work.render();
            wide = width > 0 ? width : wide;
        }).observe(this.main);
        /* What the hand did last may not be kept yet: it is kept when the hand rests. */
        window.addEventListener('pagehide', () => this.keep());
        document.addEventListener('visibilitychange', () => document.hidden && this.keep());
        document.addEventListener('dragover', event => event.preventDefault());
        document.addEventListener('drop', event => {
            event.preventDefault();
            this.openFiles(event.dataTransfer.files);
        });
    }

    get work() { return this.works[this.tab]; }
    /* Whether all that waits for the hand to rest is done; the tests ask. */
    get settled() { return this.reading === 0 && this.work.settled; }

    /* Shows one of the two; what a slot of the library holds is that one's. */
    go(name) {
        this.tab = name;
        this.tabs.forEach(tab => {
            const here = tab.id === 'tab-' + name;
            tab.setAttribute('aria-selected', String(here));
            tab.tabIndex = here ? 0 : -1;
        });
        for (const [key, work] of Object.entries(this.works))
            work.element.hidden = key !== name;
        if (name === 'teach')
            this.teach.changed(false);
        else
            this.consult.changed();
        this.keep();
    }

    tabKey(event) {
        const step = {ArrowRight: 1, ArrowLeft: -1}[event.key];
        if (step === undefined)
            return;
        const next = this.tabs[(this.tabs.indexOf(event.target) + step + this.tabs.length) % this.tabs.length];
        next.click();
        next.focus();
    }

    /* ---- Files ------------------------------------------------------------------------------ */

    message(fault) {
        const place = fault.line > 0 ? `:${fault.line}:${fault.column}` : '';
        return `${fault.path}${place}: ${fault.message}`;
    }

    async openFiles(list) {
        this.reading++;
        try {
            await this.openAll(list);
        } finally {
            this.reading--;
        }
    }

    async openAll(list) {
        const files = await Promise.all([...list].map(async file =>
            ({name: file.name, bytes: new Uint8Array(await file.arrayBuffer())})));
        const surveys = files.filter(file => /\.csv$/i.test(file.name));
        const set = files.find(file => !/\.csv$/i.test(file.name));
        this.picker.value = '';
        if (set === undefined)
            return this.refuse(WORDS.files.noSet);
        const before = this.surveys;
        this.giveSurveys(Object.fromEntries(surveys.slice(0, 2).map(file => [file.name, file.bytes])));
        const fault = this.take(set.bytes, set.name);
        if (fault === null)
            return this.voice.now(WORDS.files.opened(set.name));
        this.giveSurveys(before);
        return this.refuse(this.message(fault));
    }

    refuse(text) {
        this.work.problem.hidden = false;
        this.work.problem.textContent = text;
        this.voice.now(text);
    }

    giveSurveys(surveys) {
        this.surveys = surveys;
        const names = Object.keys(surveys);
        for (let i = 0; i < 2; i++)
            this.engine.putSurvey(i, names[i] ?? '', names[i] === undefined ? null : surveys[names[i]]);
    }

    /* Takes the bytes or the text of a set, if the library does. */
    take(text, name) {
        const fault = this.engine.read(0, text, name);
        if (fault !== null)
            return fault;
        this.fileName = name;
        if (this.tab !== 'teach')
            this.go('teach');
        const decoded = typeof text === 'string' ? text : new TextDecoder().decode(text);
        this.teach.stop();
        this.teach.open(JSON.parse(decoded.replace(/^\uFEFF/, '')));
        return null;
    }

    download(name, text, type) {
        const link = make('a', {href: URL.createObjectURL(new Blob([text], {type})), download: name});
        link.click();
        setTimeout(() => URL.revokeObjectURL(link.href), 10000);
    }

    save() {
        this.download(this.work === this.teach ? this.fileName : 'plan.json', this.work.text, 'application/json');
        if (this.work !== this.teach)
            return;
        for (const [name, bytes] of Object.entries(this.surveys))
            this.download(name, bytes, 'text/csv');
    }

    /* Described lashes become rows of a survey, which says that they are drawn. */
    saveSurvey() {
        const set = JSON.parse(this.work.text), written = [], base = this.work === this.teach ? this.fileName : 'plan.json';
        for (const eye of set.eyes) {
            const side = SIDES.indexOf(eye.side);
            if (eye.lashes.describe === undefined)
                continue;
            const name = base.replace(/\.json$/i, '') + `-${eye.side}.csv`;
            written.push([name, this.engine.survey(0, side)]);
            eye.lashes = {survey: name, drawn: true};
        }
        this.download(base, textOf(set), 'application/json');
        const kept = this.work === this.teach ? Object.entries(this.surveys) : [];
        for (const [name, bytes] of [...written, ...kept])
            this.download(name, bytes, 'text/csv');
    }

    async copy() {
        try {
            await navigator.clipboard.writeText(this.work.text);
            this.voice.now(WORDS.files.copied);
        } catch {
            this.voice.now(WORDS.files.notCopied);
            this.showText();
        }
    }

    showText() {
        this.area.value = this.work.text;
        this.areaProblem.textContent = '';
        this.dialog.showModal();
    }

    useText() {
        const fault = this.take(this.area.value, this.fileName);
        this.areaProblem.textContent = fault === null ? '' : this.message(fault);
        if (fault === null)
            this.dialog.close();
    }

    /* ---- What survives a reload ------------------------------------------------------------- */

    keep() {
        const surveys = Object.fromEntries(Object.entries(this.surveys).map(([name, bytes]) => [name, new TextDecoder().decode(bytes)]));
        try {
            localStorage.setItem(KEPT, JSON.stringify({text: this.teach.text, name: this.fileName, surveys, tab: this.tab, wishes: this.consult.wishes}));
        } catch { /* a browser may keep nothing for a page from disk; then it begins anew */ }
    }

    restore() {
        let kept = null;
        try {
            kept = JSON.parse(localStorage.getItem(KEPT));
            this.consult.restore(kept.wishes);
            this.giveSurveys(Object.fromEntries(Object.entries(kept.surveys).map(([name, text]) => [name, new TextEncoder().encode(text)])));
            if (this.take(kept.text, kept.name) !== null)
                throw new Error('refused');
        } catch { /* nothing was kept, or nothing that can be used */
            this.giveSurveys({});
            this.teach.begin('rule');
        }
        this.started = true;
        this.go(kept?.tab === 'consult' ? 'consult' : 'teach');
    }
}

async function begin() {
    const root = document.getElementById('page');
    try {
        const engine = await Engine.start(document.getElementById('module').textContent.trim());
        window.tipcrest = new Page(engine, root);
        performance.mark('first-picture');
    } catch (error) {
        root.replaceChildren(make('p', {class: 'problem'}, WORDS.noModule, ' ', String(error)));
        throw error;
    }
}

if (typeof document === 'undefined')
    serve();
else
    begin();
