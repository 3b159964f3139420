// Ends with 1, and says why, when the validator of Khronos finds an error or a warning in one of the files.
// node validate_glb.cjs FOLDER-OF-NODE_MODULES FILE...
const fs = require('fs');
const path = require('path');
const [folder, ...files] = process.argv.slice(2);
const validator = require(path.resolve(folder, 'node_modules/gltf-validator'));

(async () => {
    let wrong = 0;
    for (const file of files) {
        const report = await validator.validateBytes(new Uint8Array(fs.readFileSync(file)));
        wrong += report.issues.numErrors + report.issues.numWarnings;
        for (const issue of report.issues.messages.slice(0, 5)) console.log(file, JSON.stringify(issue));
    }
    process.exit(wrong > 0 ? 1 : 0);
})();
