// Stands in for the module that better-sqlite3 looks its compiled part up with, in a dozen places: it lies in this one.
'use strict';
module.exports = () => require('better-sqlite3/build/Release/better_sqlite3.node');
