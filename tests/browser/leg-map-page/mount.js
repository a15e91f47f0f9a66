/** The component alone on a page; the routes that it gives stand in the title. */
import { h, render } from 'preact';
import { LegMap } from '../../../web/src/plan/leg-map.tsx';
import '../../../web/src/styles/ink.css';
import '../../../web/src/styles/page.css';
import '../../../web/src/styles/plan.css';

document.title = '';
const onRoute = (text) => (document.title += `${text};`);
const box = new URLSearchParams(location.search).get('box') ?? '-75,42,-67,46.5';
render(h(LegMap, { onRoute, box: box.split(',').map(Number) }), document.querySelector('main'));
