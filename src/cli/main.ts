import { version } from '../../package.json';

console.log(version);
