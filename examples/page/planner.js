/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Plans beside the page, in a worker of its own, so that the hand is never held up. */

/* The answer to {text, samples}: {fault, cells, eyes}. */
function planOf(engine, {text, samples}) {
    const fault = engine.read(1, text, 'set.json', PARTS.all | PARTS.anyLength) ?? engine.plan(1, samples);
    return {fault, cells: fault === null ? engine.cells(1) : [],
        eyes: fault === null ? SIDES.map((_, side) => engine.planEye(side)) : []};
}

/* What the worker does: start the library once, then answer. */
function serve() {
    let engine;
    self.onmessage = async ({data}) => {
        try {
            engine ??= Engine.start(data.module);
            self.postMessage({number: data.number, ...planOf(await engine, data)});
        } catch {
            self.postMessage({broken: true});
        }
    };
}

class Planner {
    constructor(engine, answer) {
        this.engine = engine;
        this.answer = answer;
        this.number = 0;
    }

    /* Starts the worker with the first question; null where the browser has none for the page. */
    begin() {
        this.module = document.getElementById('module').textContent.trim();
        try {
            const script = new Blob([document.getElementById('script').textContent], {type: 'text/javascript'});
            this.worker = new Worker(URL.createObjectURL(script));
            this.worker.onmessage = ({data}) => data.broken ? this.without() : this.done(data);
            this.worker.onerror = () => this.without();
        } catch {
            this.worker = null;
        }
    }

    /* Goes on in the page itself, where the browser lets a page from disk have no worker. */
    without() {
        this.worker = null;
        this.busy = false;
        this.send();
    }

    /* What was asked is no longer of interest. */
    drop() {
        this.number++;
        this.question = undefined;
    }

    /* Asks for a plan; only the latest question is answered. */
    ask(question) {
        this.question = {...question, number: ++this.number};
        this.send();
    }

    send() {
        if (this.busy || this.question === undefined)
            return;
        const question = this.question;
        if (this.worker === undefined)
            this.begin();
        if (this.worker === null) {
            this.question = undefined;
            setTimeout(() => this.done({number: question.number, ...planOf(this.engine, question)}), 0);
            return;
        }
        this.busy = true;
        this.worker.postMessage({...question, module: this.module});
    }

    done(result) {
        this.busy = false;
        if (result.number === this.number) {
            this.question = undefined;
            this.answer(result);
        } else {
            this.send();
        }
    }
}
