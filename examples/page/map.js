/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The map of a closed eye as the artist sees it from the head of the couch: turned by half, zones
 * along the lid's edge, and beyond the tips what each layer of a zone gets. Lines alone, for paper.
 */
class MapPicture extends Picture {
    constructor(label) {
        super({x: -21, y: -9.5, width: 42, height: 23.5}, label);
        this.canvas.remove();
        this.element.classList.add('map');
    }

    /* side; upper: the lid's edge, points at even shares of it; zones with what their layers get. */
    draw({side, hairs, upper, zones}) {
        const turn = side === 1 ? 1 : -1, points = upper.length / 2;
        const middle = upper[2 * (points >> 1) + 1];
        const at = (x, y) => [turn * x, middle - y]; /* by half a turn; y up */
        const edge = u => {
            const i = Math.min(points - 2, Math.floor(u * (points - 1))), share = u * (points - 1) - i;
            return [0, 1].map(k => upper[2 * i + k] + share * (upper[2 * i + 2 + k] - upper[2 * i + k]));
        };
        const line = (from, to) => `M${round(from[0])} ${round(-from[1])}L${round(to[0])} ${round(-to[1])}`;
        const layers = ['', '', ''], ways = [];
        for (let i = 0; i < hairs.count; i++) {
            const k = hairs.natural(i), root = [hairs.all[k], hairs.all[k + 1]], tip = hairs.tip(i);
            if (hairs.fibres(i) === 0)
                continue;
            layers[hairs.layer(i)] += line(at(...root), at(...tip));
            ways.push({x: root[0], dx: tip[0] - root[0], dy: tip[1] - root[1]});
        }
        layers.forEach((d, i) => this.path('layer' + i, 'worn l' + i, d));
        this.path('edge', 'edge', Array.from({length: points}, (_, i) => at(upper[2 * i], upper[2 * i + 1]))
            .map(([x, y], i) => `${i ? 'L' : 'M'}${round(x)} ${round(-y)}`).join(''));
        this.zones(zones, {edge, at, line, ways});
    }

    /* Borders, numbers inside the edge, and lengths beyond the tips. */
    zones(zones, {edge, at, line, ways}) {
        let borders = '', from = 0;
        zones.forEach(({to, lengths}, i) => {
            const start = edge(from), end = edge(to), [x, y] = edge((from + to) / 2);
            const dx = end[0] - start[0], dy = end[1] - start[1], inwards = 1.7 * Math.sign(dx) / (Math.hypot(dx, dy) || 1);
            const low = Math.min(start[0], end[0]), high = Math.max(start[0], end[0]);
            const own = ways.filter(way => way.x >= low && way.x <= high);
            const mean = key => own.length > 0 ? own.reduce((sum, way) => sum + way[key], 0) / own.length : key === 'dy' ? -8 : 0;
            const far = Math.max(8, ...own.map(way => Math.hypot(way.dx, way.dy))), size = Math.hypot(mean('dx'), mean('dy'));
            const beyond = (far + 1.6) / size, [lx, ly] = at(x + beyond * mean('dx'), y + beyond * mean('dy'));
            const [nx, ny] = at(x - inwards * dy, y + inwards * dx);
            if (to < 1)
                borders += line(at(end[0], end[1] + 1.2), at(end[0], end[1] - .8));
            this.label('zone' + i, 'zone', nx, ny - .5, String(i + 1));
            this.label('lengths' + i, 'lengths', Math.max(-18.5, Math.min(18.5, lx)), ly - .5, lengths.join('·'));
            from = to;
        });
        for (let i = zones.length; this.parts['zone' + i]; i++)
            ['zone', 'lengths'].forEach(name => this.label(name + i, name, 0, 0, ''));
        this.path('borders', 'edge', borders);
    }
}
