/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Pictures in millimetres: hairs on a canvas, lines and labels above it in SVG. */

/* The palette of the library's own pictures (lib/draw/style.c). */
const INK = {
    natural: '#43291c', layers: ['#14161f', '#12559c', '#d0661a'],
    fitted: '#8a0f52', intended: '#2b2b33', other: '#0f6b62', halo: 'rgba(255,255,255,.85)', band: 'rgba(255,255,255,.42)',
    skin: ['#f3ddcd', '#e7c8b4', '#e7c8b4', '#f3ddcd'], deep: '#d3aa93', shade: '125,74,58',
    glow: '255,243,232', crease: '#6b3d30', lashLine: '#2a1a17', water: '#e9b6a9', waterEdge: '#a9675a',
    sclera: '#f4f0ec', scleraEdge: '#cdbdb6', caruncle: '#d98f85', pupil: '#08080b', limbus: '#18262b',
    iris: ['#8f6a3a', '#8f6a3a', '#6f7f63', '#3f5a5c', '#18262b'], flesh: '#e3b9a4', clear: '#dde8ec',
};
const IRIS_MM = 11.71 / 2, GLOBE_MM = 12;

/* A canvas with an overlay, both in millimetres: x to the right, y up. */
class Picture {
    constructor(box, label) {
        this.box = box; /* {x, y, width, height}: y of the lower edge */
        this.canvas = make('canvas', {'aria-hidden': 'true'});
        this.svg = make('svg', {role: 'img', viewBox: `${box.x} ${-box.y - box.height} ${box.width} ${box.height}`});
        this.title = make('title', {}, label);
        this.svg.append(this.title);
        this.element = make('div', {class: 'picture'}, this.canvas, this.svg);
        this.element.style.aspectRatio = `${box.width} / ${box.height}`;
        this.context = this.canvas.getContext('2d');
        this.mirror = 1;
        this.finest = 1; /* points of the canvas for one of the page, at least */
        this.width = 0;
        new ResizeObserver(([entry]) => { this.width = entry.contentRect.width; }).observe(this.element);
    }

    /* Clears the canvas at the size that it has on the screen. */
    begin() {
        this.width ||= this.element.clientWidth; /* asked once: asking lays the page out */
        const width = Math.round(this.width * Math.max(devicePixelRatio, this.finest)) || 600;
        const height = Math.round(width * this.box.height / this.box.width);
        if (this.canvas.width !== width || this.canvas.height !== height)
            Object.assign(this.canvas, {width, height});
        const scale = width / this.box.width;
        this.scale = scale;
        this.context.setTransform(scale, 0, 0, -scale, -this.box.x * scale, (this.box.y + this.box.height) * scale);
        return this.context;
    }

    /* An overlay's part, made once. */
    part(name, kind, attributes) {
        this.parts ??= {};
        if (!this.parts[name]) {
            this.parts[name] = make(kind, attributes);
            this.svg.append(this.parts[name]);
        }
        return this.parts[name];
    }

    path(name, className, d) { this.part(name, 'path', {class: className}).setAttribute('d', d); }

    /* A text with its middle, beginning or end at a place. */
    label(name, className, x, y, text) {
        const element = this.part(name, 'text', {class: className});
        element.setAttribute('x', x);
        element.setAttribute('y', -y);
        if (element.textContent !== text)
            element.textContent = text;
    }
}

const round = v => Math.round(v * 1000) / 1000;

/* Pairs of numbers as an SVG path. */
function pathOf(points, mirror = 1, lift = 0) {
    let d = '';
    for (let i = 0; points !== null && i < points.length; i += 2)
        d += `${i === 0 ? 'M' : 'L'}${round(mirror * points[i])} ${round(-points[i + 1] - lift)}`;
    return d;
}

const BACK = new Float64Array(2 * FIBRE); /* the other side of a hair, until its first is drawn */

/* Adds the outline of a tapered hair to a path; thin ones keep a width that can be seen. The fill closes it. */
function addHair(c, all, at, points, mirror, lift, least) {
    for (let i = 0; i < points; i++) {
        const k = at + 3 * i, before = i > 0 ? k - 3 : k, after = i + 1 < points ? k + 3 : k;
        const dx = all[after] - all[before], dy = all[after + 1] - all[before + 1];
        const by = Math.max(all[k + 2], least) / (Math.sqrt(dx * dx + dy * dy) || 1);
        const x = all[k], y = all[k + 1] + lift, ox = -dy * by, oy = dx * by;
        BACK[2 * i] = mirror * (x - ox);
        BACK[2 * i + 1] = y - oy;
        if (i === 0)
            c.moveTo(mirror * (x + ox), y + oy);
        else
            c.lineTo(mirror * (x + ox), y + oy);
    }
    for (let i = 2 * points - 2; i >= 0; i -= 2)
        c.lineTo(BACK[i], BACK[i + 1]);
}

/* All hairs: natural ones, then fibres from the top layer down, one fill for each. */
function drawHairs(c, hairs, {mirror = 1, lift = 0, bare = false, scale}) {
    const least = 0.6 / scale;
    c.beginPath();
    for (let i = 0; i < hairs.count; i++)
        addHair(c, hairs.all, hairs.natural(i), NATURAL, mirror, lift, least);
    c.fillStyle = INK.natural;
    c.fill();
    for (let layer = 2; layer >= 0 && !bare; layer--) {
        c.beginPath();
        for (let i = 0; i < hairs.count; i++)
            for (let j = 0; hairs.layer(i) === layer && j < hairs.fibres(i); j++)
                addHair(c, hairs.all, hairs.fibre(i, j), FIBRE, mirror, lift, least);
        c.fillStyle = INK.layers[layer];
        c.fill();
    }
}

/* Marks at the tips in the shapes of the layers, so that a grey picture can be read: disc, square, triangle. */
function drawMarks(c, hairs, radius, {mirror = 1, lift = 0} = {}) {
    const half = .886 * radius, corner = 1.35 * radius;
    c.lineWidth = radius / 4;
    c.strokeStyle = INK.halo;
    for (let layer = 2; layer >= 0; layer--) {
        c.beginPath();
        for (let i = 0; i < hairs.count; i++) {
            if (hairs.layer(i) !== layer || hairs.fibres(i) === 0)
                continue;
            const [tip, height] = hairs.tip(i), x = mirror * tip, y = height + lift;
            if (layer === 1) {
                c.rect(x - half, y - half, 2 * half, 2 * half);
                continue;
            }
            c.moveTo(layer === 0 ? x + radius : x, layer === 0 ? y : y + corner);
            if (layer === 0) {
                c.arc(x, y, radius, 0, 7);
            } else {
                c.lineTo(x + .866 * corner, y - .5 * corner);
                c.lineTo(x - .866 * corner, y - .5 * corner);
                c.closePath();
            }
        }
        c.stroke();
        c.fillStyle = INK.layers[layer];
        c.fill();
    }
}

function trace(c, points, mirror, lift, backwards = false) {
    for (let n = points.length / 2, i = 0; i < n; i++) {
        const k = 2 * (backwards ? n - 1 - i : i);
        c.lineTo(mirror * points[k], points[k + 1] + lift);
    }
}

/* The iris has rays. */
const RAYS = new Path2D();
for (let i = 0; i < 60; i++) {
    const a = i * Math.PI / 30, inner = 2.3 + (i * 7 % 5) / 6, outer = 3.6 + (i * 11 % 7) / 4;
    RAYS.moveTo(inner * Math.cos(a), inner * Math.sin(a));
    RAYS.lineTo(outer * Math.cos(a + .03), outer * Math.sin(a + .03));
}

/* An eye from the front or from above: skin, eyeball, lids, lashes, lines. */
class EyePicture extends Picture {
    constructor(label) {
        super({x: -21.5, y: -13.5, width: 43, height: 33}, label);
        this.parts = {};
        for (const [name, className] of [['intended', 'intended'], ['other', 'other'], ['line', 'fitted'], ['rings', 'rings']])
            this.path(name, className, '');
        this.part('scale', 'path', {class: 'scale', d: 'M-20 12.6v-.6h10v.6'}).setAttribute('aria-hidden', 'true');
        this.label('scaleText', 'small', -15, -11.4, WORDS.scale);
    }

    /* shape: {side, opening, viewer (degrees), upper, open, lower, hairs, bare}. */
    draw(shape) {
        const c = this.begin(), tilt = shape.viewer * Math.PI / 180;
        const mirror = shape.side === 1 ? -1 : 1, lift = 0.72 * GLOBE_MM * Math.sin(tilt);
        Object.assign(this, {mirror, lift});
        this.skin(c);
        this.ball(c, shape, mirror, lift, tilt);
        this.lids(c, shape, mirror, lift);
        drawHairs(c, shape.hairs, {mirror, lift, bare: shape.bare, scale: this.scale});
    }

    skin(c) {
        const {x, y, width, height} = this.box;
        const down = c.createLinearGradient(0, y + height, 0, y);
        [0, .45, .7, 1].forEach((at, i) => down.addColorStop(at, INK.skin[i]));
        c.fillStyle = down;
        c.fillRect(x, y, width, height);
        this.patch(c, -19 * this.mirror, -3, 14, INK.shade, .2);
        this.patch(c, 4 * this.mirror, -12, 18, INK.glow, .5);
    }

    patch(c, x, y, radius, colour, strength) {
        const soft = c.createRadialGradient(x, y, 0, x, y, radius);
        soft.addColorStop(0, `rgba(${colour},${strength})`);
        soft.addColorStop(1, `rgba(${colour},0)`);
        c.fillStyle = soft;
        c.fillRect(x - radius, y - radius, 2 * radius, 2 * radius);
    }

    ball(c, {upper, lower}, mirror, lift, tilt) {
        c.save();
        c.beginPath();
        trace(c, upper, mirror, lift);
        trace(c, lower, mirror, lift, true);
        c.closePath();
        c.clip();
        const white = c.createRadialGradient(0, lift, 7, 0, lift, 15);
        white.addColorStop(0, INK.sclera);
        white.addColorStop(1, INK.scleraEdge);
        c.fillStyle = white;
        c.fillRect(-25, -25, 50, 50);
        this.patch(c, mirror * upper[0], upper[1] + lift, 3.4, '217,143,133', .95);
        const front = Math.sqrt(GLOBE_MM ** 2 - IRIS_MM ** 2);
        c.translate(0, lift - front * Math.sin(tilt));
        c.scale(1, Math.max(Math.cos(tilt), .05));
        const iris = c.createRadialGradient(0, 0, 0, 0, 0, IRIS_MM);
        [0, .4, .62, .86, 1].forEach((at, i) => iris.addColorStop(at, INK.iris[i]));
        c.fillStyle = iris;
        c.beginPath();
        c.arc(0, 0, IRIS_MM, 0, 7);
        c.fill();
        c.strokeStyle = 'rgba(217,215,176,.25)';
        c.lineWidth = .12;
        c.stroke(RAYS);
        c.fillStyle = INK.pupil;
        c.beginPath();
        c.arc(0, 0, 1.9, 0, 7);
        c.fill();
        c.fillStyle = 'rgba(255,255,255,.9)';
        c.beginPath();
        c.ellipse(-1.6, 1.5, .75, .6, .5, 0, 7);
        c.fill();
        c.restore();
    }

    lids(c, {upper, open, lower, opening}, mirror, lift) {
        /* the crease: above the margin of the open eye, and less far above it as the eye closes */
        const crease = upper.map((v, i) => i % 2 === 0 ? v :
            v + (2.4 + 2.2 * (1 - opening)) * Math.sin(Math.PI * (i - 1) / (upper.length - 2)) ** .7 +
            .35 * Math.max(0, open[i] - v));
        c.beginPath();
        trace(c, upper, mirror, lift);
        trace(c, crease, mirror, lift, true);
        c.closePath();
        c.fillStyle = INK.deep;
        c.globalAlpha = .55;
        c.fill();
        c.globalAlpha = 1;
        const stroke = (points, colour, width) => {
            c.beginPath();
            trace(c, points, mirror, lift);
            c.strokeStyle = colour;
            c.lineWidth = width;
            c.lineCap = c.lineJoin = 'round';
            c.stroke();
        };
        stroke(crease, `rgba(${INK.shade},.35)`, .9);
        stroke(crease, INK.crease, .22);
        stroke(lower, INK.waterEdge, .9);
        stroke(lower, INK.water, .6);
        stroke(upper, INK.lashLine, .5);
    }

    /* What lies under a line, on the canvas: a canvas is not laid out. */
    ground(line, colour, width) {
        const c = this.context;
        c.beginPath();
        trace(c, line, this.mirror, this.lift);
        c.strokeStyle = colour;
        c.lineWidth = width;
        c.lineCap = 'butt';
        c.stroke();
    }

    /* Lines over it: {fitted, intended, other, tolerance, hairs}. */
    lines({fitted, intended, other = null, tolerance, hairs}) {
        const {mirror, lift} = this;
        if (fitted !== null) {
            this.ground(fitted, INK.band, 2 * tolerance);
            this.ground(fitted, INK.halo, .55);
        }
        drawMarks(this.context, hairs, .2, {mirror, lift});
        this.path('line', 'fitted', pathOf(fitted, mirror, lift));
        this.path('intended', 'intended', pathOf(intended, mirror, lift));
        this.path('other', 'other', pathOf(other, mirror, lift));
        let rings = '';
        for (let i = 0; i < hairs.count; i++)
            if (hairs.sticks(i)) {
                const [x, y] = hairs.tip(i);
                rings += `M${round(mirror * x + .38)} ${round(-y - lift)}a.38 .38 0 1 0-.76 0 .38 .38 0 1 0 .76 0`;
            }
        this.path('rings', 'rings', rings);
    }
}

/* The profile at the middle of the lid, from the temple: eyeball and lid in section, three lashes. */
class ProfilePicture extends Picture {
    constructor(label) {
        super({x: -2, y: -13.5, width: 30, height: 33}, label);
        this.apart = figure(NaN, 'profile.tips_apart_mm', 2, {kind: 'tspan'});
        this.gap = make('text', {class: 'gap-text', x: 26.6}, ...WORDS.apartTips(this.apart));
        this.svg.append(this.gap);
    }

    draw({upper, lower, apart, hairs}) {
        const c = this.begin(), {x, y, width, height} = this.box;
        const radius = Math.hypot(...upper), at = Math.atan2(upper[1], upper[0]), under = Math.atan2(lower[1], lower[0]);
        c.fillStyle = '#fff';
        c.fillRect(x, y, width, height);
        c.fillStyle = INK.sclera;
        c.strokeStyle = INK.scleraEdge;
        c.lineWidth = .15;
        c.beginPath();
        c.arc(0, 0, radius, -2, 2);
        c.fill();
        c.stroke();
        const front = Math.sqrt(radius ** 2 - IRIS_MM ** 2);
        c.fillStyle = INK.clear;
        c.beginPath();
        c.ellipse(front - .3, 0, 2.7, IRIS_MM, 0, -Math.PI / 2, Math.PI / 2);
        c.fill();
        c.fillStyle = '#3f5a5c';
        c.fillRect(front - .9, 1.9, .5, IRIS_MM - 2.1);
        c.fillRect(front - .9, -IRIS_MM + .2, .5, IRIS_MM - 2.1);
        this.lid(c, radius, at, 1.9, 1);
        this.lid(c, radius, under, -1.9, -1);
        drawHairs(c, hairs, {scale: this.scale});
        this.tips(hairs, apart);
    }

    /* A lid with the skin behind it. */
    lid(c, radius, from, to, sign) {
        const thick = radius + 1.1;
        c.fillStyle = INK.flesh;
        c.beginPath();
        c.arc(0, 0, radius + .05, from, to, sign < 0);
        c.lineTo(-3, sign * 20);
        c.lineTo(thick * .72, sign * 20);
        const edge = Math.max(-1.4, Math.min(1.4, from + sign * .5));
        c.quadraticCurveTo(thick * .8, sign * 14, thick * Math.cos(edge), thick * Math.sin(edge));
        c.arc(0, 0, thick, edge, from, sign > 0);
        c.closePath();
        c.fill();
        c.strokeStyle = INK.waterEdge;
        c.lineWidth = .12;
        c.stroke();
    }

    /* How far the tips are apart in height. */
    tips(hairs, apart) {
        const c = this.context, all = Array.from({length: hairs.count}, (_, i) => hairs.tip(i));
        const tips = all.filter((_, i) => hairs.fibres(i) > 0);
        const right = Math.max(...all.map(p => p[0])) + 1.2;
        const heights = tips.map(p => p[1]), top = Math.max(...heights), bottom = Math.min(...heights);
        const stroke = (colour, width, ...lines) => {
            c.strokeStyle = colour;
            c.lineWidth = width;
            c.beginPath();
            for (const [x, y, to, up] of lines) {
                c.moveTo(x, y);
                c.lineTo(to, up);
            }
            c.stroke();
        };
        stroke(INK.intended, .1, ...tips.map(([x, y]) => [x + .2, y, right + .8, y]));
        drawMarks(c, hairs, .3);
        const some = !Number.isNaN(apart);
        if (some)
            stroke(INK.fitted, .25, [right, top, right, bottom]);
        this.apart.put(apart);
        this.gap.setAttribute('y', some ? -Math.min(top + 1.1, 17.5) : 0);
        this.gap.setAttribute('visibility', some ? 'visible' : 'hidden');
    }
}

/* The lesson: what the rule gains over how far the layers are apart. */
class LessonChart {
    constructor() {
        this.svg = make('svg', {class: 'chart', viewBox: '0 0 300 198', role: 'img'});
        this.element = make('div', {}, this.svg);
    }

    clear() { this.svg.replaceChildren(); }

    /* curves: rows of [apart, equal, 1 mm less, 2 mm less, best]; here: [apart, rms]. */
    draw(curves, here) {
        const most = Math.max(1, ...curves.flatMap(row => [row[1], row[2]]).filter(v => v < 9), here[1] || 0) * 1.05;
        const x = apart => 34 + apart / 1.6 * 200, y = rms => 160 - rms / most * 135;
        const parts = [make('title', {}, WORDS.lesson)];
        for (let rms = 0; rms <= most; rms += most > 2 ? 0.5 : 0.2)
            parts.push(make('path', {class: 'rule', d: `M34 ${y(rms)}H234`}),
                make('text', {class: 'end', x: 29, y: y(rms) + 3.5}, fixed(rms, 1)));
        for (let apart = 0; apart <= 1.61; apart += 0.4)
            parts.push(make('text', {class: 'middle', x: x(apart), y: 179}, fixed(apart, 1)));
        parts.push(make('text', {class: 'middle', x: 134, y: 194}, WORDS.lessonAxis),
            make('text', {x: 4, y: 12}, WORDS.lessonScale));
        const ends = [], drawn = [];
        [1, 2, 4].forEach(k => {
            const points = curves.filter(row => !Number.isNaN(row[k])).map(row => [x(row[0]), y(row[k])]);
            parts.push(make('path', {class: 'curve c' + k, 'data-curve': JSON.stringify(curves.map(row => [row[0], row[k]])), d: points.map((p, i) => `${i ? 'L' : 'M'}${round(p[0])} ${round(p[1])}`).join('')}));
            points.forEach(([px, py], i) => { /* and three places up to the next */
                const [nx, ny] = points[i + 1] ?? [px, py];
                [0, .25, .5, .75].forEach(share => drawn.push([px + share * (nx - px), py + share * (ny - py)]));
            });
            if (points.length > 0)
                ends.push({k, y: points[points.length - 1][1]});
        });
        ends.sort((a, b) => a.y - b.y).forEach((end, i) => { end.y = Math.max(end.y, i > 0 ? ends[i - 1].y + 14 : 0); });
        [...ends.keys()].reverse().forEach(i => { /* none below the foot, where the axis has its numbers */
            ends[i].y = Math.min(ends[i].y, i + 1 < ends.length ? ends[i + 1].y - 14 : 160);
            parts.push(make('text', {class: 'name c' + ends[i].k, x: 237, y: ends[i].y + 3.5}, WORDS.lessonShort[ends[i].k - 1]));
        });
        if (!Number.isNaN(here[1])) {
            const cx = x(Math.min(here[0], 1.6)), cy = y(here[1]), half = 3.4 * WORDS.lessonHere.length;
            /* Where the name of the dot meets the fewest curves: above, below, right, left, and farther off. */
            const places = [[0, -9], [0, 19], [half + 10, 4], [-half - 10, 4], [0, -20], [0, 30], [half + 4, -14], [-half - 4, -14], [half + 4, 24], [-half - 4, 24]]
                .map(([right, down]) => [cx + right, cy + down]).filter(([tx, ty]) => tx - half > 36 && tx + half < 232 && ty > 24 && ty < 158);
            const met = ([tx, ty]) => drawn.filter(([px, py]) => Math.abs(px - tx) < half + 5 && py > ty - 14 && py < ty + 6).length;
            const [tx, ty] = places.reduce((best, place) => met(place) < met(best) ? place : best, places[0] ?? [cx, Math.max(cy - 9, 25)]);
            parts.push(make('circle', {class: 'here', 'data-apart': here[0], 'data-rms': here[1], cx, cy, r: 4.5}),
                make('text', {class: 'middle here-text', x: tx, y: ty}, WORDS.lessonHere));
        }
        this.svg.replaceChildren(...parts);
    }
}
