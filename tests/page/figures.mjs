/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Figures of the page held against a report of the command. */
import {expect} from './harness.mjs';

/* A member of a report by its path: "fitted.layer_offset_mm.top". */
const member = (object, name) => name.split('.').reduce((at, key) => at?.[key], object);

/* The report's number for a figure of an eye. */
function reported(eye, name) {
    if (name === 'extended')
        return eye.lashes.filter(lash => lash.extension !== null).length;
    if (name === 'staggered_lashes')
        return eye.lashes.filter(lash => lash.staggered).length;
    return member(eye, name);
}

/* As the page writes numbers: so many decimals, a true minus; its own rounding is what is tested. */
function written(value, decimals, {signed, percent}) {
    const number = percent ? value * 100 : value;
    const text = Math.abs(number).toFixed(decimals);
    const sign = Number(text) === 0 ? '' : number < 0 ? '−' : signed ? '+' : '';
    return sign + text + (percent ? ' %' : '');
}

/* What the page shows: [{name, value, text, side, id}]. */
export const shown = (page, scope) => page.$$eval(`${scope} [data-figure]`, elements => elements.map(element => ({
    name: element.dataset.figure, value: Number(element.dataset.value), text: element.textContent,
    side: element.closest('[data-side]')?.dataset.side ?? '',
    id: element.closest('tr')?.querySelector('th')?.textContent ?? '',
})));

/* Holds one figure: 1e-9 before rounding, and its digits after. */
export function compare(figure, expected, what) {
    if (expected === null || expected === undefined) {
        expect(Number.isNaN(figure.value) && figure.text.startsWith('–'), `${what}: ${figure.text}, not reported`);
        return;
    }
    const off = Math.abs(figure.value - expected);
    expect(off <= 1e-9 * Math.max(1, Math.abs(expected)), `${what}: ${figure.value}, reported ${expected}`);
    const digits = /\.(\d+)/.exec(figure.text);
    const text = written(expected, digits ? digits[1].length : 0,
        {signed: /^\+/.test(figure.text), percent: /%$/.test(figure.text)});
    const unit = figure.text.replace(/^[−+]?[\d.]+( %)?/, '');
    expect(figure.text === text + unit, `${what}: shown ${figure.text}, rounded ${text}`);
}

/* Holds all figures against a report of check; returns how many. */
export function compareAll(figures, report, what) {
    for (const figure of figures) {
        const eye = report.eyes.find(one => figure.side === '' || one.side === figure.side);
        const lash = figure.name === 'deviation_mm' ? eye.lashes.find(one => one.id === figure.id) : null;
        const expected = lash ? lash.deviation_mm : figure.name.startsWith('symmetry.') ?
            member(report, figure.name) : reported(eye, figure.name);
        compare(figure, expected, `${what}, ${figure.side} ${figure.name} ${lash ? figure.id : ''}`);
    }
    return figures.length;
}
