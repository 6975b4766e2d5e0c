/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Figures of the page held against reports of the command. */
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
export function written(value, decimals, {signed, percent} = {}) {
    const number = percent ? value * 100 : value;
    const text = Math.abs(number).toFixed(decimals);
    const sign = Number(text) === 0 ? '' : number < 0 ? '−' : signed ? '+' : '';
    return sign + text + (percent ? ' %' : '');
}

/* What the page shows: [{name, value, text, side, id}]. */
export const shown = (page, scope) => page.$$eval(`${scope} [data-figure]`, elements => elements.map(element => ({
    name: element.dataset.figure, value: Number(element.dataset.value), text: element.textContent,
    side: element.closest('[data-side]')?.dataset.side ?? '',
    id: element.closest('tr')?.querySelector('th')?.textContent ?? '', magnitude: element.dataset.magnitude !== undefined,
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
    const text = written(figure.magnitude ? Math.abs(expected) : expected, digits ? digits[1].length : 0,
        {signed: /^\+/.test(figure.text), percent: /%$/.test(figure.text)});
    const unit = figure.text.replace(/^[−+]?[\d.]+( %)?/, '');
    expect(figure.text === text + unit, `${what}: shown ${figure.text}, rounded ${text}`);
}

const OF_LASHES = /^(deviation_mm|remedy\.)/;

/*
 * Holds all figures against a report of check, those named step: against one of step, where that is
 * given; returns how many. How far the tips of the profile are apart is in neither report and has a
 * claim of its own.
 */
export function compareAll(figures, report, what, step = null) {
    const held = figures.filter(one => !one.name.startsWith('profile.') && (step !== null || !one.name.startsWith('step:')));
    for (const figure of held) {
        const eye = report.eyes.find(one => figure.side === '' || one.side === figure.side);
        const lash = OF_LASHES.test(figure.name) ? eye.lashes.find(one => one.id === figure.id) : null;
        const expected = lash ? member(lash, figure.name) : figure.name.startsWith('symmetry.') ? member(report, figure.name) :
            figure.name.startsWith('step:') ? member(step, figure.name.slice(5)) : reported(eye, figure.name);
        compare(figure, expected, `${what}, ${figure.side} ${figure.name} ${lash ? figure.id : ''}`);
    }
    return held.length;
}

/* ---- Words and pictures that say figures ------------------------------------------------------ */

/* The verdict on an eye as the page says it. */
export const said = eye => eye.verdict?.replace('-', ' ') ?? 'not judged';

/* Holds the words beside the figures of Teach: the verdict, and of each lash that sticks out its layer and which size helps. */
export async function compareWords(page, eye, what) {
    const {verdict, rows, more} = await page.evaluate(() => ({
        verdict: document.querySelector('#teach .verdict').textContent,
        rows: [...document.querySelectorAll('#teach .sticking tr')].map(row => [row.querySelector('th').textContent, row.querySelector('td').textContent]),
        more: document.querySelector('#teach .out .note')?.textContent ?? ''}));
    const out = eye.lashes.filter(lash => lash.staggered), size = id => Math.abs(out.find(lash => lash.id === id)?.deviation_mm);
    expect(verdict === said(eye), `${what}: ${verdict}, reported ${eye.verdict}`);
    expect(rows.length === Math.min(5, out.length), `${what}: ${rows.length} rows, ${out.length} stick out`);
    expect(out.length <= 5 ? more === '' : more.includes(` ${out.length - 5} `), `${what}: "${more}", ${out.length} stick out`);
    for (const [id, text] of rows) {
        const lash = out.find(one => one.id === id);
        expect(lash !== undefined && text.startsWith(lash.layer), `${what}, ${id}: ${text}`);
        const {sizes} = lash.remedy;
        expect(/longer/.test(text) === sizes > 0 && /shorter/.test(text) === sizes < 0, `${what}, ${id}: ${text}, sizes ${sizes}`);
        expect(out.every(one => rows.some(row => row[0] === one.id) || size(one.id) <= size(id) + 1e-9), `${what}: a worse one than ${id} is left out`);
    }
}

/*
 * Holds the lesson's curves and dot against reports of step: for each distance of the layers one
 * {apart_mm, equal_mm, ...} in the view of the set. The axes' own numbers say where a point is to be.
 */
export async function compareLesson(page, rows, {apart_mm: apart, rms_mm: rms}, what) {
    const chart = await page.$eval('#teach .chart', svg => {
        const ticks = (selector, of) => [...svg.querySelectorAll(selector)].filter(one => /^[\d.]+$/.test(one.textContent)).map(one => [Number(one.textContent), of(one)]);
        const dot = svg.querySelector('.here');
        return {x: ticks('text.middle', one => Number(one.getAttribute('x'))), y: [...svg.querySelectorAll('.rule')].map(one => Number(/ ([\d.]+)H/.exec(one.getAttribute('d'))[1])),
            labels: ticks('text.end', () => 0).map(tick => tick[0]),
            curves: [...svg.querySelectorAll('.curve')].map(one => ({values: JSON.parse(one.dataset.curve), d: one.getAttribute('d')})),
            dot: {apart: Number(dot.dataset.apart), rms: Number(dot.dataset.rms), x: Number(dot.getAttribute('cx')), y: Number(dot.getAttribute('cy'))}};
    });
    const [[x0, left], [x1, right]] = chart.x, foot = chart.y[0], mm = (chart.y[0] - chart.y[1]) / (chart.labels[1] - chart.labels[0]);
    const at = (far, off) => [left + (far - x0) * (right - left) / (x1 - x0), foot - off * mm];
    const near = (got, expected) => got === null || expected === null ? got === expected : Math.abs(got - expected) <= 1e-9 * Math.max(1, Math.abs(expected));
    let points = 0;
    ['equal_mm', 'one_less_mm', 'best_mm'].forEach((name, k) => {
        const {values, d} = chart.curves[k], drawn = [...d.matchAll(/[ML]([\d.-]+) ([\d.-]+)/g)].map(one => [Number(one[1]), Number(one[2])]);
        const held = values.filter(([, value]) => value !== null);
        expect(held.length === drawn.length, `${what}, ${name}: ${drawn.length} points of ${held.length}`);
        for (const [i, [far, off]] of held.entries()) {
            const [x, y] = at(far, off);
            expect(Math.hypot(drawn[i][0] - x, drawn[i][1] - y) < 0.01, `${what}, ${name} at ${far} mm: drawn at ${drawn[i]}, to be at ${[x, y]}`);
        }
        for (const row of rows) {
            const value = values.find(one => near(one[0], row.apart_mm));
            if (value === undefined)
                continue; /* the page draws fewer */
            expect(near(value[1], row[name]), `${what}, ${name} at ${row.apart_mm} mm: ${value[1]}, reported ${row[name]}`);
            points++;
        }
    });
    expect(near(chart.dot.apart, apart) && near(chart.dot.rms, rms), `${what}: the dot is at ${chart.dot.apart}, ${chart.dot.rms}; reported ${apart}, ${rms}`);
    const [x, y] = at(Math.min(apart, 1.6), rms);
    expect(Math.hypot(chart.dot.x - x, chart.dot.y - y) < 0.01, `${what}: the dot is drawn at ${chart.dot.x}, ${chart.dot.y}`);
    return points;
}
