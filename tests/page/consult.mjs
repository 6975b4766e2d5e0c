/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Consult: its plan is that of tipcrest plan, and its sheet fits on a page. */
import fs from 'node:fs';
import {claim, expect, open, put, ready, report, same, saved} from './harness.mjs';
import {compare, compareAll, shown, written} from './figures.mjs';

/* Opens the tab with some wishes and waits for the plan of them. */
async function consult(page, change = () => {}) {
    await page.click('#tab-consult');
    await page.evaluate(change);
    await page.evaluate(() => window.tipcrest.consult.changed());
    await page.waitForFunction(() => window.tipcrest.consult.done !== null, null, {timeout: 120000});
}

/* Figures of a plan, and not of the planned set. */
const PLANNED = /^(over_samples|reach)\./;

/* Holds the page's plan against the command's for the same set. */
async function comparePlan(page, what) {
    const asked = put(`${what}.json`, await page.evaluate(() => textOf(window.tipcrest.consult.asked)));
    const plan = report('plan', asked);
    for (const eye of plan.eyes) {
        const cells = await page.$$eval(`#consult .scroll[data-side=${eye.side}] [data-cell]`, all => all.map(one => [one.dataset.cell, one.textContent]));
        same(cells.length, eye.cells.length, `${what}: cells of the ${eye.side} eye`);
        for (const {zone, layer, extension} of eye.cells) {
            const key = `${zone - 1}-${['bottom', 'middle', 'top'].indexOf(layer)}`;
            const text = new Map(cells).get(key) ?? '';
            expect(text.startsWith(`${extension.length_mm} ${extension.curl} ${extension.diameter_mm} `), `${what}, ${eye.side} ${key}: ${text}`);
        }
        for (const figure of (await shown(page, `#consult [data-side=${eye.side}]`)).filter(one => PLANNED.test(one.name)))
            compare(figure, figure.name.split('.').reduce((at, name) => at[name], eye), `${what}, ${eye.side} ${figure.name}`);
        const {asked_mm: wished, given_mm: given} = eye.reach;
        same(await page.locator(`#consult .expect [data-side=${eye.side}] [data-figure="reach.given_mm"]`).count(), given < wished ? 1 : 0, `${what}: whether the ${eye.side} eye gets less`);
    }
    return plan;
}

const WISHES = {
    'as it begins': () => {},
    'cat, D': () => Object.assign(window.tipcrest.consult.wishes, {look: 'cat', curl: 'D', longest: 12, diameter: 0.07}),
    'longer than the lashes can carry': () => {
        const {wishes} = window.tipcrest.consult;
        Object.assign(wishes, {longest: 14});
        wishes.left.length = 6;
    },
    'halves, small eyes': () => {
        const {wishes} = window.tipcrest.consult;
        Object.assign(wishes, {look: 'doll', halves: true, longest: 9.5});
        Object.assign(wishes.left, {mrd1: 2.1, tilt: -2, count: 60, length: 6.2});
    },
};
for (const [name, change] of Object.entries(WISHES))
    claim(`the plan is that of tipcrest plan, and the planned set checks alike: ${name}`, async () => {
        const page = await open();
        await consult(page, change);
        const plan = await comparePlan(page, name.replace(/\W/g, ''));
        const files = await saved(page, '[data-file=plan]');
        const figures = (await shown(page, '#consult')).filter(one => !PLANNED.test(one.name)), checked = report('check', files['plan.json']);
        const count = compareAll(figures, checked, name);
        expect(count >= 6, `${count} figures`);
        const alike = await page.textContent('#consult .expect p:last-child');
        expect(alike.includes(` are ${checked.symmetry.verdict}: `), `${alike}, reported ${checked.symmetry.verdict}`);
        const [right, left] = ['right', 'left'].map(side => written(plan.eyes.find(eye => eye.side === side).over_samples.rms_mm, 2));
        const text = `Planned: right eye about ${right} mm rms off the line, left eye ${left} mm.`;
        await page.waitForFunction(text => document.getElementById('voice').textContent === text, text)
            .catch(async () => same(await page.textContent('#voice'), text, 'what is said'));
        same(page.complaints, [], 'complaints');
        same(page.asked.filter(url => !/^(file|blob):/.test(url)), [], 'requests');
        await page.context().close();
    });

claim('the map has the lengths of tipcrest plan, and the inner corners meet as from the head of the couch', async () => {
    const page = await open();
    await consult(page);
    const plan = await comparePlan(page, 'map');
    const maps = await page.$$eval('#consult .map', all => all.map(map => ['zone', 'lengths'].map(name =>
        [...map.querySelectorAll('text.' + name)].map(one => ({x: Number(one.getAttribute('x')), text: one.textContent})))));
    /* Turned by half, the left eye lies left of the right one, and both inner corners towards the middle. */
    for (const [side, [zones, lengths]] of [['left', maps[0]], ['right', maps[1]]]) {
        const eye = plan.eyes.find(one => one.side === side);
        const of = (zone, layer) => eye.cells.find(cell => cell.zone === zone && cell.layer === layer)?.extension.length_mm ?? '–';
        same(lengths.map(one => one.text), zones.map((_, i) => ['bottom', 'middle', 'top'].map(layer => of(i + 1, layer)).join('·')), `${side} eye`);
        same(zones.map(one => one.text), ['1', '2', '3', '4', '5'], 'zones');
        const outwards = side === 'left' ? -1 : 1;
        expect(zones.every((one, i) => i === 0 || (one.x - zones[i - 1].x) * outwards > 0), `${side} eye: ${zones.map(one => one.x)}`);
    }
    await page.context().close();
});

claim('each slider of a consultation moves by keyboard and asks for a new plan', async () => {
    const page = await open();
    await consult(page);
    const names = await page.$$eval('#consult [data-slider]', all => all.map(one => one.dataset.slider));
    same(names.length, 11, 'sliders');
    for (const name of names) {
        await page.focus(`#consult [data-slider=${name}] input`);
        const value = () => page.evaluate(slider => window.tipcrest.consult.sliders[slider].value, name);
        await page.keyboard.press('Home');
        const low = await value();
        await page.keyboard.press('PageUp');
        expect(await value() > low, `${name}: ${low}, after PageUp ${await value()}`);
        expect(/ mm|°| lashes/.test(await page.getAttribute(`#consult [data-slider=${name}] input`, 'aria-valuetext')), `${name}: no unit`);
    }
    await page.waitForFunction(() => window.tipcrest.consult.done !== null || !document.querySelector('#consult .problem').hidden, null, {timeout: 120000});
    await page.context().close();
});

claim('a plan that comes late is not taken for that of newer wishes', async () => {
    const page = await open();
    await consult(page);
    const mixed = await page.evaluate(async () => {
        const {consult} = window.tipcrest, wait = ms => new Promise(done => setTimeout(done, ms));
        consult.sliders.longest.take(10);
        while (!consult.planner.busy)
            await wait(5);
        consult.wishes.curl = 'D'; /* while the plan of 10 mm is made */
        consult.changed();
        while (consult.done === null)
            await wait(20);
        return consult.cells.some(cell => cell.curl !== 'D');
    });
    same(mixed, false, 'cells of the old curl');
    await page.context().close();
});

claim('without a worker the page plans by itself', async () => {
    const page = await open();
    await page.evaluate(() => { window.Worker = function () { throw new Error('none'); }; });
    await consult(page);
    await comparePlan(page, 'alone');
    await page.context().close();
});

claim('the sheet prints on one page, with the cautions', async () => {
    const page = await open();
    await consult(page);
    const pdf = await page.pdf({preferCSSPageSize: true, printBackground: true});
    fs.writeFileSync(process.env.WORK + '/sheet.pdf', pdf);
    same((pdf.toString('latin1').match(/\/Type\s*\/Page\b/g) ?? []).length, 1, 'pages');
    await page.emulateMedia({media: 'print'});
    expect(await page.isVisible('#consult .cautions li:last-child'), 'no cautions');
    expect(await page.isHidden('#consult .controls'), 'sliders on paper');
    await page.context().close();
});

claim('a consultation survives a reload', async () => {
    const page = await open();
    await consult(page, () => { window.tipcrest.consult.wishes.right.tilt = 9.5; });
    await page.reload();
    await ready(page);
    expect(await page.isVisible('#consult'), 'the tab');
    same(await page.evaluate(() => window.tipcrest.consult.wishes.right.tilt), 9.5, 'the tilt');
    await page.context().close();
});
