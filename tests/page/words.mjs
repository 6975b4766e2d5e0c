/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Texts: all in one table, whole at every width, and what is assumed says so. */
import fs from 'node:fs';
import {aloud, claim, expect, hush, open, same, taught} from './harness.mjs';

const planned = page => page.waitForFunction(() => window.tipcrest.consult.done !== null, null, {timeout: 120000});

/* Puts a placeholder for every letter of the table and makes the page anew; figures in a sentence stay. */
const translate = page => page.evaluate(() => {
    const blank = text => text.replace(/\p{L}/gu, '¤');
    const around = (text, kept) => kept.length === 0 ? blank(text) :
        text.split(kept[0]).map(part => around(part, kept.slice(1))).join(kept[0]);
    const other = value => typeof value === 'string' ? blank(value) :
        typeof value === 'function' ? (...given) => {
            const said = value(...given), kept = given.filter(one => typeof one !== 'object').map(String).filter(one => one !== '');
            return typeof said === 'string' ? around(said, kept) : said.map(one => typeof one === 'string' && !given.includes(one) ? around(one, kept) : one);
        } : Array.isArray(value) ? value.map(other) : value;
    const walk = table => Object.keys(table).forEach(key => {
        if (typeof table[key] === 'object' && !Array.isArray(table[key]))
            walk(table[key]);
        else
            table[key] = other(table[key]);
    });
    walk(WORDS);
    WORDS.decimal = '٫';
    localStorage.clear();
    const {engine} = window.tipcrest;
    window.tipcrest = new Page(engine, document.getElementById('page'));
});

/* Words with letters that are shown or said, but for what the library says: looks, curls and lashes' ids; and numbers with a point, versions aside. */
const leftOver = page => page.evaluate(() => {
    const {engine} = window.tipcrest, looks = engine.looks(), found = new Set();
    const library = new Set([...looks.map(look => look.name), ...engine.curls()]);
    const take = text => {
        for (const {about} of looks)
            text = text.replace(about, '');
        if (/(?<![\d.])\d+\.\d+(?![\d.])/.test(text))
            found.add(text);
        for (const word of text.split(/[\s,.;:·()]+/))
            if (/\p{L}/u.test(word) && !library.has(word) && !/^n\d+$/.test(word))
                found.add(word);
    };
    const texts = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT,
        node => /^(script|style|textarea)$/i.test(node.parentElement.localName) ? NodeFilter.FILTER_REJECT : NodeFilter.FILTER_ACCEPT);
    while (texts.nextNode())
        take(texts.currentNode.data);
    for (const element of document.body.querySelectorAll('*'))
        for (const name of ['aria-label', 'aria-valuetext', 'title', 'placeholder', 'alt'])
            take(element.getAttribute(name) ?? '');
    return [...found];
});

claim('every text of the page is in its table of words, but for those of the library', async () => {
    const page = await open(), [title, lang] = await page.evaluate(() => [WORDS.title, WORDS.lang]);
    same([await page.title(), await page.getAttribute('html', 'lang')], [title, lang], 'title and language');
    const source = fs.readFileSync(process.env.PAGE, 'utf8');
    expect(source.includes(`<p class="starting">${await page.evaluate(() => WORDS.starting)}</p>`), 'the text until it starts');
    const before = await leftOver(page);
    expect(before.length > 100 && before.some(text => /\d\.\d/.test(text)), 'words and points are found before they are replaced');
    await aloud(page);
    await translate(page);
    await taught(page);
    for (const preset of ['couch', 'equal']) {
        await hush(page);
        await page.click(`[data-preset=${preset}]`);
        await taught(page);
        await aloud(page);
        same(await leftOver(page), [], `${preset}, words that are not in the table`);
    }
    await page.click('#tab-consult');
    for (const wishes of [{}, {longest: 14}]) {
        await hush(page);
        await page.evaluate(wishes => {
            Object.assign(window.tipcrest.consult.wishes, wishes);
            window.tipcrest.consult.changed();
        }, wishes);
        await planned(page);
        await aloud(page);
        expect(await page.isVisible('#consult [data-figure="reach.given_mm"]'), 'no sentence on what the look asks for');
        same(await leftOver(page), [], 'Consult, words that are not in the table');
    }
    await page.context().close();
});

claim('what is assumed says so', async () => {
    const page = await open();
    await page.click('[data-preset=couch]');
    same(await page.getAttribute('#teach [data-slider=viewer] input', 'aria-valuetext'), 'couch, 60° (assumed)', 'the viewer');
    expect((await page.textContent('#teach .figures thead')).includes('couch, 60° (assumed)'), 'the table');
    await page.click('#tab-consult');
    await planned(page);
    const text = await page.textContent('#consult .expect');
    expect(/is beyond the limits \(assumed\)/.test(text) && !/beyond the limits(?! \(assumed\))/.test(text), text);
    expect(!/within the tolerance(?! \(assumed\))/.test(text), text);
    for (const slider of await page.$$('#consult fieldset [data-slider^=left], #consult fieldset [data-slider^=right]'))
        expect(/published|common practice|assumed/.test(await slider.textContent()), `${await slider.textContent()}: no source`);
    await page.context().close();
});

/* What is wider than its box, or than the page; options of a select by the width of their text. */
const cut = page => page.evaluate(() => {
    const found = [], measure = document.createElement('canvas').getContext('2d');
    for (const element of document.querySelectorAll('#page *')) {
        const box = element.getBoundingClientRect();
        if (box.width === 0 || element.closest('svg') !== null || element.localName === 'canvas')
            continue;
        const name = `${element.localName}.${element.className} "${element.textContent.slice(0, 40)}"`;
        if (box.right > innerWidth + 0.5 || box.left < -0.5)
            found.push(`${name} ends at ${box.right}`);
        if (element.scrollWidth > element.clientWidth + 1 && getComputedStyle(element).overflowX !== 'visible')
            found.push(`${name}: ${element.scrollWidth} in ${element.clientWidth} pixels`);
        if (element.localName === 'select') {
            const style = getComputedStyle(element), arrow = 20;
            measure.font = style.font;
            const room = element.clientWidth - parseFloat(style.paddingLeft) - parseFloat(style.paddingRight) - arrow;
            for (const option of element.options)
                if (measure.measureText(option.text).width > room + 1)
                    found.push(`${option.text}: ${measure.measureText(option.text).width} in ${room} pixels`);
        }
    }
    return found;
});

/* Texts of a picture that meet, or leave it. */
const meeting = (page, selector) => page.$$eval(selector, pictures => pictures.flatMap(svg => {
    const frame = svg.getBoundingClientRect(), found = [];
    const all = [...svg.querySelectorAll('text')].filter(one => one.textContent !== '' && one.getAttribute('visibility') !== 'hidden')
        .map(one => ({text: one.textContent, box: one.getBoundingClientRect(), high: parseFloat(getComputedStyle(one).fontSize) * one.getScreenCTM().d}));
    for (const {text, box} of all)
        if (box.width > 0 && (box.left < frame.left - 1 || box.right > frame.right + 1 || box.top < frame.top - 1 || box.bottom > frame.bottom + 1))
            found.push(`"${text}" leaves the picture`);
    /* Of a line's box, a quarter is room for what these texts lack: accents and descenders. */
    all.forEach((a, i) => all.slice(i + 1).forEach(b => {
        const side = Math.min(a.box.right, b.box.right) - Math.max(a.box.left, b.box.left);
        const up = Math.min(a.box.bottom, b.box.bottom) - Math.max(a.box.top, b.box.top);
        if (side > 0.5 && up > 0.25 * Math.min(a.high, b.high))
            found.push(`"${a.text}" meets "${b.text}"`);
    }));
    return found;
}));

for (const width of [360, 768, 1280, 1920])
    claim(`no text is cut, and none meets another, ${width} pixels wide`, async () => {
        const page = await open({viewport: {width, height: 800}});
        for (const preset of ['equal', 'rule', 'flat', 'couch']) {
            await page.click(`[data-preset=${preset}]`);
            await taught(page);
            same(await cut(page), [], preset);
            same(await meeting(page, '#teach .chart, #teach .stage svg'), [], preset);
        }
        await page.click('#tab-consult');
        await planned(page);
        same(await cut(page), [], 'Consult');
        same(await meeting(page, '#consult .map svg'), [], 'Consult');
        await page.context().close();
    });

claim('the name of the dot lies off the curves', async () => {
    const page = await open();
    for (const preset of ['equal', 'rule', 'flat', 'couch']) {
        await page.click(`[data-preset=${preset}]`);
        await taught(page);
        const met = await page.$eval('#teach .chart', svg => {
            const name = svg.querySelector('.here-text'), {x, y, width, height} = name.getBBox();
            let points = 0;
            for (const curve of svg.querySelectorAll('.curve'))
                for (let at = 0, end = curve.getTotalLength(); at <= end; at += 1) {
                    const p = curve.getPointAtLength(at);
                    points += p.x > x && p.x < x + width && p.y > y + height / 4 && p.y < y + 0.8 * height;
                }
            return points;
        });
        same(met, 0, preset);
    }
    await page.context().close();
});

/* All in one ink, a picture still tells the layers by the shapes of their marks. */
claim('in grey the layers differ by the marks at their tips', async () => {
    const page = await open();
    await taught(page);
    const differ = await page.evaluate(() => {
        INK.layers = ['#000', '#000', '#000'];
        const {teach} = window.tipcrest, canvases = [teach.front.canvas, teach.profile.canvas];
        const drawn = () => {
            teach.render();
            return canvases.map(one => one.toDataURL());
        };
        const before = drawn(), {layer} = Hairs.prototype;
        Hairs.prototype.layer = () => 0;
        const after = drawn();
        Hairs.prototype.layer = layer;
        return [drawn().every((one, i) => one === before[i]), ...before.map((one, i) => one !== after[i])];
    });
    same(differ, [true, true, true], 'alike when drawn again; front and profile differ');
    await page.context().close();
});
