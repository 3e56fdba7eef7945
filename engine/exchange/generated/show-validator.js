"use strict";
export const validate = validate10;
export default validate10;
const schema11 = {"$schema":"http://json-schema.org/draft-07/schema#","$id":"https://hopline.invalid/schema/show-1.json","title":"Hopline show, version 1","description":"One show of Hopline: places, device types, devices, cables, routing, sources, channels, mixes and wants. UTF-8 JSON, file ending .hopline.","type":"object","properties":{"format":{"const":"hopline.show"},"version":{"const":1},"id":{"$ref":"#/$defs/id"},"title":{"$ref":"#/$defs/name"},"venue":{"type":"string","pattern":"^[\\s\\S]{0,200}$"},"notes":{"$ref":"#/$defs/note"},"settings":{"$ref":"#/$defs/settings"},"places":{"type":"array","items":{"$ref":"#/$defs/place"},"maxItems":5000},"types":{"type":"array","items":{"$ref":"#/$defs/type"},"maxItems":2000},"devices":{"type":"array","items":{"$ref":"#/$defs/device"},"maxItems":5000},"cables":{"type":"array","items":{"$ref":"#/$defs/cable"},"maxItems":50000},"sources":{"type":"array","items":{"$ref":"#/$defs/source"},"maxItems":50000},"channels":{"type":"array","items":{"$ref":"#/$defs/channel"},"maxItems":50000},"mixes":{"type":"array","items":{"$ref":"#/$defs/mix"},"maxItems":20000},"wants":{"type":"array","items":{"$ref":"#/$defs/want"},"maxItems":50000},"lineChecks":{"type":"array","items":{"$ref":"#/$defs/lineCheck"},"maxItems":50000},"revisions":{"type":"array","items":{"$ref":"#/$defs/revision"},"maxItems":5000}},"required":["format","version","id","title","venue","notes","settings","places","types","devices","cables","sources","channels","mixes","wants","lineChecks","revisions"],"additionalProperties":false,"$defs":{"id":{"description":"Names a record for good; unique among its kind.","type":"string","pattern":"^[A-Za-z0-9][A-Za-z0-9._-]{0,63}$"},"name":{"type":"string","pattern":"^[\\s\\S]{1,200}$"},"note":{"type":"string","pattern":"^[\\s\\S]{0,20000}$"},"point":{"type":"object","properties":{"x":{"type":"number","minimum":-1000000,"maximum":1000000},"y":{"type":"number","minimum":-1000000,"maximum":1000000}},"required":["x","y"],"additionalProperties":false},"terminal":{"description":"One jack, or one bus of a mix engine. Numbers start at 1.","type":"object","properties":{"device":{"$ref":"#/$defs/id"},"group":{"$ref":"#/$defs/id"},"number":{"type":"integer","minimum":1,"maximum":4096}},"required":["device","group","number"],"additionalProperties":false},"start":{"type":"object","properties":{"group":{"$ref":"#/$defs/id"},"first":{"type":"integer","minimum":1,"maximum":4096}},"required":["group","first"],"additionalProperties":false},"range":{"type":"object","properties":{"group":{"$ref":"#/$defs/id"},"first":{"type":"integer","minimum":1,"maximum":4096},"count":{"type":"integer","minimum":1,"maximum":4096}},"required":["group","first","count"],"additionalProperties":false},"run":{"type":"object","properties":{"group":{"$ref":"#/$defs/id"},"first":{"type":"integer","minimum":1,"maximum":4096},"perPosition":{"type":"integer","minimum":-4096,"maximum":4096}},"required":["group","first"],"additionalProperties":false},"delay":{"type":"object","properties":{"value":{"type":"number","minimum":0,"maximum":10000},"unit":{"enum":["ms","samples"]},"provenance":{"$ref":"#/$defs/provenance"}},"required":["value","unit","provenance"],"additionalProperties":false},"provenance":{"enum":["standard","maker's sheet","measured","assumed"]},"slots":{"description":"Slots at 44.1/48, 88.2/96 and 176.4/192 kHz.","type":"object","properties":{"single":{"type":"integer","minimum":0,"maximum":4096},"double":{"type":"integer","minimum":0,"maximum":4096},"quad":{"type":"integer","minimum":0,"maximum":4096}},"required":["single","double","quad"],"additionalProperties":false},"settings":{"type":"object","properties":{"sampleRate":{"enum":[44100,48000,88200,96000,176400,192000]},"units":{"enum":["metric","imperial"]},"paper":{"enum":["A4","A3","Letter","Tabloid"]}},"required":["sampleRate","units","paper"],"additionalProperties":false},"place":{"type":"object","properties":{"id":{"$ref":"#/$defs/id"},"name":{"$ref":"#/$defs/name"},"at":{"$ref":"#/$defs/point"},"size":{"type":"object","properties":{"width":{"type":"number","minimum":1,"maximum":1000000},"height":{"type":"number","minimum":1,"maximum":1000000}},"required":["width","height"],"additionalProperties":false}},"required":["id","name","at","size"],"additionalProperties":false},"bank":{"type":"object","properties":{"id":{"$ref":"#/$defs/id"},"name":{"$ref":"#/$defs/name"},"direction":{"enum":["in","out"]},"count":{"type":"integer","minimum":1,"maximum":1024},"perJack":{"enum":[1,2]},"connector":{"enum":["XLR","TRS","RCA","BNC","RJ45","multipin","speaker","antenna","none"]},"level":{"enum":["mic","line","AES3","loudspeaker","phones","radio"]},"block":{"type":"integer","minimum":1,"maximum":1024},"convert":{"$ref":"#/$defs/delay"},"convertsRate":{"type":"boolean"}},"required":["id","name","direction","count","perJack","connector","level","block"],"additionalProperties":false},"port":{"type":"object","properties":{"id":{"$ref":"#/$defs/id"},"name":{"$ref":"#/$defs/name"},"transport":{"$ref":"#/$defs/name"},"receive":{"$ref":"#/$defs/slots"},"send":{"$ref":"#/$defs/slots"},"cables":{"type":"array","items":{"type":"object","properties":{"kind":{"$ref":"#/$defs/cableKind"},"maxMetres":{"type":"number","minimum":0,"maximum":100000},"provenance":{"$ref":"#/$defs/provenance"}},"required":["kind","maxMetres","provenance"],"additionalProperties":false},"maxItems":16},"block":{"type":"integer","minimum":1,"maximum":1024},"carriesClock":{"type":"boolean"},"carriesPreamp":{"type":"boolean"},"convertsRate":{"type":"boolean"},"receiveDelay":{"$ref":"#/$defs/delay"},"sendDelay":{"$ref":"#/$defs/delay"}},"required":["id","name","transport","receive","send","cables","block","carriesClock","carriesPreamp","convertsRate"],"additionalProperties":false},"cableKind":{"enum":["cat5e","cat5e-shielded","coax-75","fibre","digital-110","microphone","multicore","loudspeaker","line"]},"rule":{"type":"object","required":["kind"],"discriminator":{"propertyName":"kind"},"oneOf":[{"type":"object","properties":{"kind":{"const":"patch"},"to":{"$ref":"#/$defs/range"},"from":{"type":"array","items":{"$ref":"#/$defs/range"},"maxItems":256},"run":{"type":"integer","minimum":1,"maximum":1024},"delay":{"$ref":"#/$defs/delay"}},"required":["kind","to","from","run"],"additionalProperties":false},{"type":"object","properties":{"kind":{"const":"wired"},"to":{"$ref":"#/$defs/run"},"from":{"$ref":"#/$defs/run"},"count":{"type":"integer","minimum":1,"maximum":4096},"delay":{"$ref":"#/$defs/delay"}},"required":["kind","to","from","count"],"additionalProperties":false},{"type":"object","properties":{"kind":{"const":"carry"},"to":{"$ref":"#/$defs/id"},"from":{"$ref":"#/$defs/id"},"shift":{"type":"integer","minimum":-4096,"maximum":4096},"delay":{"$ref":"#/$defs/delay"}},"required":["kind","to","from","shift"],"additionalProperties":false}]},"mode":{"type":"object","properties":{"id":{"$ref":"#/$defs/id"},"name":{"$ref":"#/$defs/name"},"rules":{"type":"array","items":{"$ref":"#/$defs/rule"},"maxItems":512},"positions":{"type":"array","items":{"type":"integer","minimum":1,"maximum":64},"maxItems":64},"clock":{"$ref":"#/$defs/id"}},"required":["id","name","rules"],"additionalProperties":false},"section":{"type":"object","properties":{"id":{"$ref":"#/$defs/id"},"name":{"$ref":"#/$defs/name"},"role":{"enum":["channel","direct","mix","main","matrix"]},"count":{"type":"integer","minimum":1,"maximum":1024},"from":{"type":"array","items":{"$ref":"#/$defs/id"},"maxItems":64},"block":{"type":"integer","minimum":1,"maximum":1024}},"required":["id","name","role","count","from","block"],"additionalProperties":false},"mixer":{"type":"object","properties":{"sections":{"type":"array","items":{"$ref":"#/$defs/section"},"maxItems":32},"processing":{"$ref":"#/$defs/delay"}},"required":["sections","processing"],"additionalProperties":false},"type":{"type":"object","properties":{"id":{"$ref":"#/$defs/id"},"name":{"$ref":"#/$defs/name"},"category":{"enum":["console","stage box","breakout","split","interface","network","processor","radio","loudspeaker","personal mixer","recorder"]},"banks":{"type":"array","items":{"$ref":"#/$defs/bank"},"maxItems":64},"ports":{"type":"array","items":{"$ref":"#/$defs/port"},"maxItems":128},"mixer":{"$ref":"#/$defs/mixer"},"rules":{"type":"array","items":{"$ref":"#/$defs/rule"},"maxItems":1024},"modes":{"type":"array","items":{"$ref":"#/$defs/mode"},"minItems":1,"maxItems":64},"chain":{"type":"integer","minimum":1,"maximum":64},"clock":{"$ref":"#/$defs/id"}},"required":["id","name","category","banks","ports","rules","modes","chain","clock"],"additionalProperties":false},"assignment":{"type":"object","properties":{"to":{"$ref":"#/$defs/start"},"from":{"$ref":"#/$defs/start"},"count":{"type":"integer","minimum":1,"maximum":4096}},"required":["to","from","count"],"additionalProperties":false},"device":{"type":"object","properties":{"id":{"$ref":"#/$defs/id"},"name":{"$ref":"#/$defs/name"},"type":{"$ref":"#/$defs/id"},"place":{"$ref":"#/$defs/id"},"at":{"$ref":"#/$defs/point"},"mode":{"$ref":"#/$defs/id"},"position":{"type":"integer","minimum":1,"maximum":64},"powered":{"type":"boolean"},"sampleRate":{"enum":[44100,48000,88200,96000,176400,192000]},"clock":{"$ref":"#/$defs/id"},"routing":{"type":"array","items":{"$ref":"#/$defs/assignment"},"maxItems":4096},"notes":{"$ref":"#/$defs/note"}},"required":["id","name","type","place","at","mode","position","powered","routing"],"additionalProperties":false},"cableEnd":{"type":"object","properties":{"device":{"$ref":"#/$defs/id"},"group":{"$ref":"#/$defs/id"},"first":{"type":"integer","minimum":1,"maximum":4096}},"required":["device","group","first"],"additionalProperties":false},"cable":{"type":"object","properties":{"id":{"$ref":"#/$defs/id"},"kind":{"$ref":"#/$defs/cableKind"},"length":{"type":"number","minimum":0,"maximum":100000},"tag":{"type":"string","pattern":"^[\\s\\S]{0,200}$"},"ways":{"type":"integer","minimum":1,"maximum":1024},"ends":{"type":"array","items":{"$ref":"#/$defs/cableEnd"},"minItems":2,"maxItems":2}},"required":["id","kind","tag","ways","ends"],"additionalProperties":false},"source":{"type":"object","properties":{"id":{"$ref":"#/$defs/id"},"name":{"$ref":"#/$defs/name"},"kind":{"enum":["microphone","DI","line","playback","talkback"]},"at":{"$ref":"#/$defs/terminal"},"phantom":{"type":"boolean"},"preampOwner":{"$ref":"#/$defs/id"}},"required":["id","name","kind","at","phantom"],"additionalProperties":false},"channel":{"type":"object","properties":{"id":{"$ref":"#/$defs/id"},"console":{"$ref":"#/$defs/id"},"group":{"$ref":"#/$defs/id"},"number":{"type":"integer","minimum":1,"maximum":4096},"name":{"type":"string","pattern":"^[\\s\\S]{0,200}$"},"source":{"$ref":"#/$defs/id"}},"required":["id","console","group","number","name"],"additionalProperties":false},"mix":{"type":"object","properties":{"id":{"$ref":"#/$defs/id"},"console":{"$ref":"#/$defs/id"},"group":{"$ref":"#/$defs/id"},"first":{"type":"integer","minimum":1,"maximum":4096},"width":{"enum":[1,2]},"name":{"type":"string","pattern":"^[\\s\\S]{0,200}$"},"members":{"type":"array","items":{"type":"object","properties":{"group":{"$ref":"#/$defs/id"},"number":{"type":"integer","minimum":1,"maximum":4096},"tap":{"enum":["pre","post"]}},"required":["group","number","tap"],"additionalProperties":false},"maxItems":4096}},"required":["id","console","group","first","width","name","members"],"additionalProperties":false},"want":{"type":"object","properties":{"id":{"$ref":"#/$defs/id"},"name":{"$ref":"#/$defs/name"},"to":{"$ref":"#/$defs/terminal"},"from":{"$ref":"#/$defs/terminal"}},"required":["id","name","to"],"additionalProperties":false},"lineCheck":{"type":"object","properties":{"at":{"$ref":"#/$defs/terminal"},"result":{"enum":["passed","failed"]},"date":{"type":"string","pattern":"^[\\s\\S]{0,40}$"},"note":{"$ref":"#/$defs/note"},"trace":{"type":"string","pattern":"^[\\s\\S]{0,200}$"}},"required":["at","result","date","note","trace"],"additionalProperties":false},"revision":{"type":"object","properties":{"name":{"$ref":"#/$defs/name"},"date":{"type":"string","pattern":"^[\\s\\S]{0,40}$"},"note":{"$ref":"#/$defs/note"}},"required":["name","date","note"],"additionalProperties":false}}};
const schema12 = {"description":"Names a record for good; unique among its kind.","type":"string","pattern":"^[A-Za-z0-9][A-Za-z0-9._-]{0,63}$"};
const schema13 = {"type":"string","pattern":"^[\\s\\S]{1,200}$"};
const schema14 = {"type":"string","pattern":"^[\\s\\S]{0,20000}$"};
const schema15 = {"type":"object","properties":{"sampleRate":{"enum":[44100,48000,88200,96000,176400,192000]},"units":{"enum":["metric","imperial"]},"paper":{"enum":["A4","A3","Letter","Tabloid"]}},"required":["sampleRate","units","paper"],"additionalProperties":false};
const func2 = Object.prototype.hasOwnProperty;
const pattern0 = new RegExp("^[A-Za-z0-9][A-Za-z0-9._-]{0,63}$", "u");
const pattern1 = new RegExp("^[\\s\\S]{1,200}$", "u");
const pattern2 = new RegExp("^[\\s\\S]{0,200}$", "u");
const pattern3 = new RegExp("^[\\s\\S]{0,20000}$", "u");
const schema16 = {"type":"object","properties":{"id":{"$ref":"#/$defs/id"},"name":{"$ref":"#/$defs/name"},"at":{"$ref":"#/$defs/point"},"size":{"type":"object","properties":{"width":{"type":"number","minimum":1,"maximum":1000000},"height":{"type":"number","minimum":1,"maximum":1000000}},"required":["width","height"],"additionalProperties":false}},"required":["id","name","at","size"],"additionalProperties":false};
const schema19 = {"type":"object","properties":{"x":{"type":"number","minimum":-1000000,"maximum":1000000},"y":{"type":"number","minimum":-1000000,"maximum":1000000}},"required":["x","y"],"additionalProperties":false};

function validate11(data, {instancePath="", parentData, parentDataProperty, rootData=data}={}){
let vErrors = null;
let errors = 0;
if(errors === 0){
if(data && typeof data == "object" && !Array.isArray(data)){
let missing0;
if(((((data.id === undefined) && (missing0 = "id")) || ((data.name === undefined) && (missing0 = "name"))) || ((data.at === undefined) && (missing0 = "at"))) || ((data.size === undefined) && (missing0 = "size"))){
validate11.errors = [{instancePath,schemaPath:"#/required",keyword:"required",params:{missingProperty: missing0},message:"must have required property '"+missing0+"'"}];
return false;
}
else {
const _errs1 = errors;
for(const key0 in data){
if(!((((key0 === "id") || (key0 === "name")) || (key0 === "at")) || (key0 === "size"))){
validate11.errors = [{instancePath,schemaPath:"#/additionalProperties",keyword:"additionalProperties",params:{additionalProperty: key0},message:"must NOT have additional properties"}];
return false;
break;
}
}
if(_errs1 === errors){
if(data.id !== undefined){
let data0 = data.id;
const _errs2 = errors;
const _errs3 = errors;
if(errors === _errs3){
if(typeof data0 === "string"){
if(!pattern0.test(data0)){
validate11.errors = [{instancePath:instancePath+"/id",schemaPath:"#/$defs/id/pattern",keyword:"pattern",params:{pattern: "^[A-Za-z0-9][A-Za-z0-9._-]{0,63}$"},message:"must match pattern \""+"^[A-Za-z0-9][A-Za-z0-9._-]{0,63}$"+"\""}];
return false;
}
}
else {
validate11.errors = [{instancePath:instancePath+"/id",schemaPath:"#/$defs/id/type",keyword:"type",params:{type: "string"},message:"must be string"}];
return false;
}
}
var valid0 = _errs2 === errors;
}
else {
var valid0 = true;
}
if(valid0){
if(data.name !== undefined){
let data1 = data.name;
const _errs5 = errors;
const _errs6 = errors;
if(errors === _errs6){
if(typeof data1 === "string"){
if(!pattern1.test(data1)){
validate11.errors = [{instancePath:instancePath+"/name",schemaPath:"#/$defs/name/pattern",keyword:"pattern",params:{pattern: "^[\\s\\S]{1,200}$"},message:"must match pattern \""+"^[\\s\\S]{1,200}$"+"\""}];
return false;
}
}
else {
validate11.errors = [{instancePath:instancePath+"/name",schemaPath:"#/$defs/name/type",keyword:"type",params:{type: "string"},message:"must be string"}];
return false;
}
}
var valid0 = _errs5 === errors;
}
else {
var valid0 = true;
}
if(valid0){
if(data.at !== undefined){
let data2 = data.at;
const _errs8 = errors;
const _errs9 = errors;
if(errors === _errs9){
if(data2 && typeof data2 == "object" && !Array.isArray(data2)){
let missing1;
if(((data2.x === undefined) && (missing1 = "x")) || ((data2.y === undefined) && (missing1 = "y"))){
validate11.errors = [{instancePath:instancePath+"/at",schemaPath:"#/$defs/point/required",keyword:"required",params:{missingProperty: missing1},message:"must have required property '"+missing1+"'"}];
return false;
}
else {
const _errs11 = errors;
for(const key1 in data2){
if(!((key1 === "x") || (key1 === "y"))){
validate11.errors = [{instancePath:instancePath+"/at",schemaPath:"#/$defs/point/additionalProperties",keyword:"additionalProperties",params:{additionalProperty: key1},message:"must NOT have additional properties"}];
return false;
break;
}
}
if(_errs11 === errors){
if(data2.x !== undefined){
let data3 = data2.x;
const _errs12 = errors;
if(errors === _errs12){
if((typeof data3 == "number") && (isFinite(data3))){
if(data3 > 1000000 || isNaN(data3)){
validate11.errors = [{instancePath:instancePath+"/at/x",schemaPath:"#/$defs/point/properties/x/maximum",keyword:"maximum",params:{comparison: "<=", limit: 1000000},message:"must be <= 1000000"}];
return false;
}
else {
if(data3 < -1000000 || isNaN(data3)){
validate11.errors = [{instancePath:instancePath+"/at/x",schemaPath:"#/$defs/point/properties/x/minimum",keyword:"minimum",params:{comparison: ">=", limit: -1000000},message:"must be >= -1000000"}];
return false;
}
}
}
else {
validate11.errors = [{instancePath:instancePath+"/at/x",schemaPath:"#/$defs/point/properties/x/type",keyword:"type",params:{type: "number"},message:"must be number"}];
return false;
}
}
var valid4 = _errs12 === errors;
}
else {
var valid4 = true;
}
if(valid4){
if(data2.y !== undefined){
let data4 = data2.y;
const _errs14 = errors;
if(errors === _errs14){
if((typeof data4 == "number") && (isFinite(data4))){
if(data4 > 1000000 || isNaN(data4)){
validate11.errors = [{instancePath:instancePath+"/at/y",schemaPath:"#/$defs/point/properties/y/maximum",keyword:"maximum",params:{comparison: "<=", limit: 1000000},message:"must be <= 1000000"}];
return false;
}
else {
if(data4 < -1000000 || isNaN(data4)){
validate11.errors = [{instancePath:instancePath+"/at/y",schemaPath:"#/$defs/point/properties/y/minimum",keyword:"minimum",params:{comparison: ">=", limit: -1000000},message:"must be >= -1000000"}];
return false;
}
}
}
else {
validate11.errors = [{instancePath:instancePath+"/at/y",schemaPath:"#/$defs/point/properties/y/type",keyword:"type",params:{type: "number"},message:"must be number"}];
return false;
}
}
var valid4 = _errs14 === errors;
}
else {
var valid4 = true;
}
}
}
}
}
else {
validate11.errors = [{instancePath:instancePath+"/at",schemaPath:"#/$defs/point/type",keyword:"type",params:{type: "object"},message:"must be object"}];
return false;
}
}
var valid0 = _errs8 === errors;
}
else {
var valid0 = true;
}
if(valid0){
if(data.size !== undefined){
let data5 = data.size;
const _errs16 = errors;
if(errors === _errs16){
if(data5 && typeof data5 == "object" && !Array.isArray(data5)){
let missing2;
if(((data5.width === undefined) && (missing2 = "width")) || ((data5.height === undefined) && (missing2 = "height"))){
validate11.errors = [{instancePath:instancePath+"/size",schemaPath:"#/properties/size/required",keyword:"required",params:{missingProperty: missing2},message:"must have required property '"+missing2+"'"}];
return false;
}
else {
const _errs18 = errors;
for(const key2 in data5){
if(!((key2 === "width") || (key2 === "height"))){
validate11.errors = [{instancePath:instancePath+"/size",schemaPath:"#/properties/size/additionalProperties",keyword:"additionalProperties",params:{additionalProperty: key2},message:"must NOT have additional properties"}];
return false;
break;
}
}
if(_errs18 === errors){
if(data5.width !== undefined){
let data6 = data5.width;
const _errs19 = errors;
if(errors === _errs19){
if((typeof data6 == "number") && (isFinite(data6))){
if(data6 > 1000000 || isNaN(data6)){
validate11.errors = [{instancePath:instancePath+"/size/width",schemaPath:"#/properties/size/properties/width/maximum",keyword:"maximum",params:{comparison: "<=", limit: 1000000},message:"must be <= 1000000"}];
return false;
}
else {
if(data6 < 1 || isNaN(data6)){
validate11.errors = [{instancePath:instancePath+"/size/width",schemaPath:"#/properties/size/properties/width/minimum",keyword:"minimum",params:{comparison: ">=", limit: 1},message:"must be >= 1"}];
return false;
}
}
}
else {
validate11.errors = [{instancePath:instancePath+"/size/width",schemaPath:"#/properties/size/properties/width/type",keyword:"type",params:{type: "number"},message:"must be number"}];
return false;
}
}
var valid5 = _errs19 === errors;
}
else {
var valid5 = true;
}
if(valid5){
if(data5.height !== undefined){
let data7 = data5.height;
const _errs21 = errors;
if(errors === _errs21){
if((typeof data7 == "number") && (isFinite(data7))){
if(data7 > 1000000 || isNaN(data7)){
validate11.errors = [{instancePath:instancePath+"/size/height",schemaPath:"#/properties/size/properties/height/maximum",keyword:"maximum",params:{comparison: "<=", limit: 1000000},message:"must be <= 1000000"}];
return false;
}
else {
if(data7 < 1 || isNaN(data7)){
validate11.errors = [{instancePath:instancePath+"/size/height",schemaPath:"#/properties/size/properties/height/minimum",keyword:"minimum",params:{comparison: ">=", limit: 1},message:"must be >= 1"}];
return false;
}
}
}
else {
validate11.errors = [{instancePath:instancePath+"/size/height",schemaPath:"#/properties/size/properties/height/type",keyword:"type",params:{type: "number"},message:"must be number"}];
return false;
}
}
var valid5 = _errs21 === errors;
}
else {
var valid5 = true;
}
}
}
}
}
else {
validate11.errors = [{instancePath:instancePath+"/size",schemaPath:"#/properties/size/type",keyword:"type",params:{type: "object"},message:"must be object"}];
return false;
}
}
var valid0 = _errs16 === errors;
}
else {
var valid0 = true;
}
}
}
}
}
}
}
else {
validate11.errors = [{instancePath,schemaPath:"#/type",keyword:"type",params:{type: "object"},message:"must be object"}];
return false;
}
}
validate11.errors = vErrors;
return errors === 0;
}

const schema20 = {"type":"object","properties":{"id":{"$ref":"#/$defs/id"},"name":{"$ref":"#/$defs/name"},"category":{"enum":["console","stage box","breakout","split","interface","network","processor","radio","loudspeaker","personal mixer","recorder"]},"banks":{"type":"array","items":{"$ref":"#/$defs/bank"},"maxItems":64},"ports":{"type":"array","items":{"$ref":"#/$defs/port"},"maxItems":128},"mixer":{"$ref":"#/$defs/mixer"},"rules":{"type":"array","items":{"$ref":"#/$defs/rule"},"maxItems":1024},"modes":{"type":"array","items":{"$ref":"#/$defs/mode"},"minItems":1,"maxItems":64},"chain":{"type":"integer","minimum":1,"maximum":64},"clock":{"$ref":"#/$defs/id"}},"required":["id","name","category","banks","ports","rules","modes","chain","clock"],"additionalProperties":false};
const schema23 = {"type":"object","properties":{"id":{"$ref":"#/$defs/id"},"name":{"$ref":"#/$defs/name"},"direction":{"enum":["in","out"]},"count":{"type":"integer","minimum":1,"maximum":1024},"perJack":{"enum":[1,2]},"connector":{"enum":["XLR","TRS","RCA","BNC","RJ45","multipin","speaker","antenna","none"]},"level":{"enum":["mic","line","AES3","loudspeaker","phones","radio"]},"block":{"type":"integer","minimum":1,"maximum":1024},"convert":{"$ref":"#/$defs/delay"},"convertsRate":{"type":"boolean"}},"required":["id","name","direction","count","perJack","connector","level","block"],"additionalProperties":false};
const schema26 = {"type":"object","properties":{"value":{"type":"number","minimum":0,"maximum":10000},"unit":{"enum":["ms","samples"]},"provenance":{"$ref":"#/$defs/provenance"}},"required":["value","unit","provenance"],"additionalProperties":false};
const schema27 = {"enum":["standard","maker's sheet","measured","assumed"]};

function validate15(data, {instancePath="", parentData, parentDataProperty, rootData=data}={}){
let vErrors = null;
let errors = 0;
if(errors === 0){
if(data && typeof data == "object" && !Array.isArray(data)){
let missing0;
if((((data.value === undefined) && (missing0 = "value")) || ((data.unit === undefined) && (missing0 = "unit"))) || ((data.provenance === undefined) && (missing0 = "provenance"))){
validate15.errors = [{instancePath,schemaPath:"#/required",keyword:"required",params:{missingProperty: missing0},message:"must have required property '"+missing0+"'"}];
return false;
}
else {
const _errs1 = errors;
for(const key0 in data){
if(!(((key0 === "value") || (key0 === "unit")) || (key0 === "provenance"))){
validate15.errors = [{instancePath,schemaPath:"#/additionalProperties",keyword:"additionalProperties",params:{additionalProperty: key0},message:"must NOT have additional properties"}];
return false;
break;
}
}
if(_errs1 === errors){
if(data.value !== undefined){
let data0 = data.value;
const _errs2 = errors;
if(errors === _errs2){
if((typeof data0 == "number") && (isFinite(data0))){
if(data0 > 10000 || isNaN(data0)){
validate15.errors = [{instancePath:instancePath+"/value",schemaPath:"#/properties/value/maximum",keyword:"maximum",params:{comparison: "<=", limit: 10000},message:"must be <= 10000"}];
return false;
}
else {
if(data0 < 0 || isNaN(data0)){
validate15.errors = [{instancePath:instancePath+"/value",schemaPath:"#/properties/value/minimum",keyword:"minimum",params:{comparison: ">=", limit: 0},message:"must be >= 0"}];
return false;
}
}
}
else {
validate15.errors = [{instancePath:instancePath+"/value",schemaPath:"#/properties/value/type",keyword:"type",params:{type: "number"},message:"must be number"}];
return false;
}
}
var valid0 = _errs2 === errors;
}
else {
var valid0 = true;
}
if(valid0){
if(data.unit !== undefined){
let data1 = data.unit;
const _errs4 = errors;
if(!((data1 === "ms") || (data1 === "samples"))){
validate15.errors = [{instancePath:instancePath+"/unit",schemaPath:"#/properties/unit/enum",keyword:"enum",params:{allowedValues: schema26.properties.unit.enum},message:"must be equal to one of the allowed values"}];
return false;
}
var valid0 = _errs4 === errors;
}
else {
var valid0 = true;
}
if(valid0){
if(data.provenance !== undefined){
let data2 = data.provenance;
const _errs5 = errors;
if(!((((data2 === "standard") || (data2 === "maker's sheet")) || (data2 === "measured")) || (data2 === "assumed"))){
validate15.errors = [{instancePath:instancePath+"/provenance",schemaPath:"#/$defs/provenance/enum",keyword:"enum",params:{allowedValues: schema27.enum},message:"must be equal to one of the allowed values"}];
return false;
}
var valid0 = _errs5 === errors;
}
else {
var valid0 = true;
}
}
}
}
}
}
else {
validate15.errors = [{instancePath,schemaPath:"#/type",keyword:"type",params:{type: "object"},message:"must be object"}];
return false;
}
}
validate15.errors = vErrors;
return errors === 0;
}


function validate14(data, {instancePath="", parentData, parentDataProperty, rootData=data}={}){
let vErrors = null;
let errors = 0;
if(errors === 0){
if(data && typeof data == "object" && !Array.isArray(data)){
let missing0;
if(((((((((data.id === undefined) && (missing0 = "id")) || ((data.name === undefined) && (missing0 = "name"))) || ((data.direction === undefined) && (missing0 = "direction"))) || ((data.count === undefined) && (missing0 = "count"))) || ((data.perJack === undefined) && (missing0 = "perJack"))) || ((data.connector === undefined) && (missing0 = "connector"))) || ((data.level === undefined) && (missing0 = "level"))) || ((data.block === undefined) && (missing0 = "block"))){
validate14.errors = [{instancePath,schemaPath:"#/required",keyword:"required",params:{missingProperty: missing0},message:"must have required property '"+missing0+"'"}];
return false;
}
else {
const _errs1 = errors;
for(const key0 in data){
if(!(func2.call(schema23.properties, key0))){
validate14.errors = [{instancePath,schemaPath:"#/additionalProperties",keyword:"additionalProperties",params:{additionalProperty: key0},message:"must NOT have additional properties"}];
return false;
break;
}
}
if(_errs1 === errors){
if(data.id !== undefined){
let data0 = data.id;
const _errs2 = errors;
const _errs3 = errors;
if(errors === _errs3){
if(typeof data0 === "string"){
if(!pattern0.test(data0)){
validate14.errors = [{instancePath:instancePath+"/id",schemaPath:"#/$defs/id/pattern",keyword:"pattern",params:{pattern: "^[A-Za-z0-9][A-Za-z0-9._-]{0,63}$"},message:"must match pattern \""+"^[A-Za-z0-9][A-Za-z0-9._-]{0,63}$"+"\""}];
return false;
}
}
else {
validate14.errors = [{instancePath:instancePath+"/id",schemaPath:"#/$defs/id/type",keyword:"type",params:{type: "string"},message:"must be string"}];
return false;
}
}
var valid0 = _errs2 === errors;
}
else {
var valid0 = true;
}
if(valid0){
if(data.name !== undefined){
let data1 = data.name;
const _errs5 = errors;
const _errs6 = errors;
if(errors === _errs6){
if(typeof data1 === "string"){
if(!pattern1.test(data1)){
validate14.errors = [{instancePath:instancePath+"/name",schemaPath:"#/$defs/name/pattern",keyword:"pattern",params:{pattern: "^[\\s\\S]{1,200}$"},message:"must match pattern \""+"^[\\s\\S]{1,200}$"+"\""}];
return false;
}
}
else {
validate14.errors = [{instancePath:instancePath+"/name",schemaPath:"#/$defs/name/type",keyword:"type",params:{type: "string"},message:"must be string"}];
return false;
}
}
var valid0 = _errs5 === errors;
}
else {
var valid0 = true;
}
if(valid0){
if(data.direction !== undefined){
let data2 = data.direction;
const _errs8 = errors;
if(!((data2 === "in") || (data2 === "out"))){
validate14.errors = [{instancePath:instancePath+"/direction",schemaPath:"#/properties/direction/enum",keyword:"enum",params:{allowedValues: schema23.properties.direction.enum},message:"must be equal to one of the allowed values"}];
return false;
}
var valid0 = _errs8 === errors;
}
else {
var valid0 = true;
}
if(valid0){
if(data.count !== undefined){
let data3 = data.count;
const _errs9 = errors;
if(!(((typeof data3 == "number") && (!(data3 % 1) && !isNaN(data3))) && (isFinite(data3)))){
validate14.errors = [{instancePath:instancePath+"/count",schemaPath:"#/properties/count/type",keyword:"type",params:{type: "integer"},message:"must be integer"}];
return false;
}
if(errors === _errs9){
if((typeof data3 == "number") && (isFinite(data3))){
if(data3 > 1024 || isNaN(data3)){
validate14.errors = [{instancePath:instancePath+"/count",schemaPath:"#/properties/count/maximum",keyword:"maximum",params:{comparison: "<=", limit: 1024},message:"must be <= 1024"}];
return false;
}
else {
if(data3 < 1 || isNaN(data3)){
validate14.errors = [{instancePath:instancePath+"/count",schemaPath:"#/properties/count/minimum",keyword:"minimum",params:{comparison: ">=", limit: 1},message:"must be >= 1"}];
return false;
}
}
}
}
var valid0 = _errs9 === errors;
}
else {
var valid0 = true;
}
if(valid0){
if(data.perJack !== undefined){
let data4 = data.perJack;
const _errs11 = errors;
if(!((data4 === 1) || (data4 === 2))){
validate14.errors = [{instancePath:instancePath+"/perJack",schemaPath:"#/properties/perJack/enum",keyword:"enum",params:{allowedValues: schema23.properties.perJack.enum},message:"must be equal to one of the allowed values"}];
return false;
}
var valid0 = _errs11 === errors;
}
else {
var valid0 = true;
}
if(valid0){
if(data.connector !== undefined){
let data5 = data.connector;
const _errs12 = errors;
if(!(((((((((data5 === "XLR") || (data5 === "TRS")) || (data5 === "RCA")) || (data5 === "BNC")) || (data5 === "RJ45")) || (data5 === "multipin")) || (data5 === "speaker")) || (data5 === "antenna")) || (data5 === "none"))){
validate14.errors = [{instancePath:instancePath+"/connector",schemaPath:"#/properties/connector/enum",keyword:"enum",params:{allowedValues: schema23.properties.connector.enum},message:"must be equal to one of the allowed values"}];
return false;
}
var valid0 = _errs12 === errors;
}
else {
var valid0 = true;
}
if(valid0){
if(data.level !== undefined){
let data6 = data.level;
const _errs13 = errors;
if(!((((((data6 === "mic") || (data6 === "line")) || (data6 === "AES3")) || (data6 === "loudspeaker")) || (data6 === "phones")) || (data6 === "radio"))){
validate14.errors = [{instancePath:instancePath+"/level",schemaPath:"#/properties/level/enum",keyword:"enum",params:{allowedValues: schema23.properties.level.enum},message:"must be equal to one of the allowed values"}];
return false;
}
var valid0 = _errs13 === errors;
}
else {
var valid0 = true;
}
if(valid0){
if(data.block !== undefined){
let data7 = data.block;
const _errs14 = errors;
if(!(((typeof data7 == "number") && (!(data7 % 1) && !isNaN(data7))) && (isFinite(data7)))){
validate14.errors = [{instancePath:instancePath+"/block",schemaPath:"#/properties/block/type",keyword:"type",params:{type: "integer"},message:"must be integer"}];
return false;
}
if(errors === _errs14){
if((typeof data7 == "number") && (isFinite(data7))){
if(data7 > 1024 || isNaN(data7)){
validate14.errors = [{instancePath:instancePath+"/block",schemaPath:"#/properties/block/maximum",keyword:"maximum",params:{comparison: "<=", limit: 1024},message:"must be <= 1024"}];
return false;
}
else {
if(data7 < 1 || isNaN(data7)){
validate14.errors = [{instancePath:instancePath+"/block",schemaPath:"#/properties/block/minimum",keyword:"minimum",params:{comparison: ">=", limit: 1},message:"must be >= 1"}];
return false;
}
}
}
}
var valid0 = _errs14 === errors;
}
else {
var valid0 = true;
}
if(valid0){
if(data.convert !== undefined){
const _errs16 = errors;
if(!(validate15(data.convert, {instancePath:instancePath+"/convert",parentData:data,parentDataProperty:"convert",rootData}))){
vErrors = vErrors === null ? validate15.errors : vErrors.concat(validate15.errors);
errors = vErrors.length;
}
var valid0 = _errs16 === errors;
}
else {
var valid0 = true;
}
if(valid0){
if(data.convertsRate !== undefined){
const _errs17 = errors;
if(typeof data.convertsRate !== "boolean"){
validate14.errors = [{instancePath:instancePath+"/convertsRate",schemaPath:"#/properties/convertsRate/type",keyword:"type",params:{type: "boolean"},message:"must be boolean"}];
return false;
}
var valid0 = _errs17 === errors;
}
else {
var valid0 = true;
}
}
}
}
}
}
}
}
}
}
}
}
}
else {
validate14.errors = [{instancePath,schemaPath:"#/type",keyword:"type",params:{type: "object"},message:"must be object"}];
return false;
}
}
validate14.errors = vErrors;
return errors === 0;
}

const schema28 = {"type":"object","properties":{"id":{"$ref":"#/$defs/id"},"name":{"$ref":"#/$defs/name"},"transport":{"$ref":"#/$defs/name"},"receive":{"$ref":"#/$defs/slots"},"send":{"$ref":"#/$defs/slots"},"cables":{"type":"array","items":{"type":"object","properties":{"kind":{"$ref":"#/$defs/cableKind"},"maxMetres":{"type":"number","minimum":0,"maximum":100000},"provenance":{"$ref":"#/$defs/provenance"}},"required":["kind","maxMetres","provenance"],"additionalProperties":false},"maxItems":16},"block":{"type":"integer","minimum":1,"maximum":1024},"carriesClock":{"type":"boolean"},"carriesPreamp":{"type":"boolean"},"convertsRate":{"type":"boolean"},"receiveDelay":{"$ref":"#/$defs/delay"},"sendDelay":{"$ref":"#/$defs/delay"}},"required":["id","name","transport","receive","send","cables","block","carriesClock","carriesPreamp","convertsRate"],"additionalProperties":false};
const schema32 = {"description":"Slots at 44.1/48, 88.2/96 and 176.4/192 kHz.","type":"object","properties":{"single":{"type":"integer","minimum":0,"maximum":4096},"double":{"type":"integer","minimum":0,"maximum":4096},"quad":{"type":"integer","minimum":0,"maximum":4096}},"required":["single","double","quad"],"additionalProperties":false};
const schema34 = {"enum":["cat5e","cat5e-shielded","coax-75","fibre","digital-110","microphone","multicore","loudspeaker","line"]};

function validate18(data, {instancePath="", parentData, parentDataProperty, rootData=data}={}){
let vErrors = null;
let errors = 0;
if(errors === 0){
if(data && typeof data == "object" && !Array.isArray(data)){
let missing0;
if(((((((((((data.id === undefined) && (missing0 = "id")) || ((data.name === undefined) && (missing0 = "name"))) || ((data.transport === undefined) && (missing0 = "transport"))) || ((data.receive === undefined) && (missing0 = "receive"))) || ((data.send === undefined) && (missing0 = "send"))) || ((data.cables === undefined) && (missing0 = "cables"))) || ((data.block === undefined) && (missing0 = "block"))) || ((data.carriesClock === undefined) && (missing0 = "carriesClock"))) || ((data.carriesPreamp === undefined) && (missing0 = "carriesPreamp"))) || ((data.convertsRate === undefined) && (missing0 = "convertsRate"))){
validate18.errors = [{instancePath,schemaPath:"#/required",keyword:"required",params:{missingProperty: missing0},message:"must have required property '"+missing0+"'"}];
return false;
}
else {
const _errs1 = errors;
for(const key0 in data){
if(!(func2.call(schema28.properties, key0))){
validate18.errors = [{instancePath,schemaPath:"#/additionalProperties",keyword:"additionalProperties",params:{additionalProperty: key0},message:"must NOT have additional properties"}];
return false;
break;
}
}
if(_errs1 === errors){
if(data.id !== undefined){
let data0 = data.id;
const _errs2 = errors;
const _errs3 = errors;
if(errors === _errs3){
if(typeof data0 === "string"){
if(!pattern0.test(data0)){
validate18.errors = [{instancePath:instancePath+"/id",schemaPath:"#/$defs/id/pattern",keyword:"pattern",params:{pattern: "^[A-Za-z0-9][A-Za-z0-9._-]{0,63}$"},message:"must match pattern \""+"^[A-Za-z0-9][A-Za-z0-9._-]{0,63}$"+"\""}];
return false;
}
}
else {
validate18.errors = [{instancePath:instancePath+"/id",schemaPath:"#/$defs/id/type",keyword:"type",params:{type: "string"},message:"must be string"}];
return false;
}
}
var valid0 = _errs2 === errors;
}
else {
var valid0 = true;
}
if(valid0){
if(data.name !== undefined){
let data1 = data.name;
const _errs5 = errors;
const _errs6 = errors;
if(errors === _errs6){
if(typeof data1 === "string"){
if(!pattern1.test(data1)){
validate18.errors = [{instancePath:instancePath+"/name",schemaPath:"#/$defs/name/pattern",keyword:"pattern",params:{pattern: "^[\\s\\S]{1,200}$"},message:"must match pattern \""+"^[\\s\\S]{1,200}$"+"\""}];
return false;
}
}
else {
validate18.errors = [{instancePath:instancePath+"/name",schemaPath:"#/$defs/name/type",keyword:"type",params:{type: "string"},message:"must be string"}];
return false;
}
}
var valid0 = _errs5 === errors;
}
else {
var valid0 = true;
}
if(valid0){
if(data.transport !== undefined){
let data2 = data.transport;
const _errs8 = errors;
const _errs9 = errors;
if(errors === _errs9){
if(typeof data2 === "string"){
if(!pattern1.test(data2)){
validate18.errors = [{instancePath:instancePath+"/transport",schemaPath:"#/$defs/name/pattern",keyword:"pattern",params:{pattern: "^[\\s\\S]{1,200}$"},message:"must match pattern \""+"^[\\s\\S]{1,200}$"+"\""}];
return false;
}
}
else {
validate18.errors = [{instancePath:instancePath+"/transport",schemaPath:"#/$defs/name/type",keyword:"type",params:{type: "string"},message:"must be string"}];
return false;
}
}
var valid0 = _errs8 === errors;
}
else {
var valid0 = true;
}
if(valid0){
if(data.receive !== undefined){
let data3 = data.receive;
const _errs11 = errors;
const _errs12 = errors;
if(errors === _errs12){
if(data3 && typeof data3 == "object" && !Array.isArray(data3)){
let missing1;
if((((data3.single === undefined) && (missing1 = "single")) || ((data3.double === undefined) && (missing1 = "double"))) || ((data3.quad === undefined) && (missing1 = "quad"))){
validate18.errors = [{instancePath:instancePath+"/receive",schemaPath:"#/$defs/slots/required",keyword:"required",params:{missingProperty: missing1},message:"must have required property '"+missing1+"'"}];
return false;
}
else {
const _errs14 = errors;
for(const key1 in data3){
if(!(((key1 === "single") || (key1 === "double")) || (key1 === "quad"))){
validate18.errors = [{instancePath:instancePath+"/receive",schemaPath:"#/$defs/slots/additionalProperties",keyword:"additionalProperties",params:{additionalProperty: key1},message:"must NOT have additional properties"}];
return false;
break;
}
}
if(_errs14 === errors){
if(data3.single !== undefined){
let data4 = data3.single;
const _errs15 = errors;
if(!(((typeof data4 == "number") && (!(data4 % 1) && !isNaN(data4))) && (isFinite(data4)))){
validate18.errors = [{instancePath:instancePath+"/receive/single",schemaPath:"#/$defs/slots/properties/single/type",keyword:"type",params:{type: "integer"},message:"must be integer"}];
return false;
}
if(errors === _errs15){
if((typeof data4 == "number") && (isFinite(data4))){
if(data4 > 4096 || isNaN(data4)){
validate18.errors = [{instancePath:instancePath+"/receive/single",schemaPath:"#/$defs/slots/properties/single/maximum",keyword:"maximum",params:{comparison: "<=", limit: 4096},message:"must be <= 4096"}];
return false;
}
else {
if(data4 < 0 || isNaN(data4)){
validate18.errors = [{instancePath:instancePath+"/receive/single",schemaPath:"#/$defs/slots/properties/single/minimum",keyword:"minimum",params:{comparison: ">=", limit: 0},message:"must be >= 0"}];
return false;
}
}
}
}
var valid5 = _errs15 === errors;
}
else {
var valid5 = true;
}
if(valid5){
if(data3.double !== undefined){
let data5 = data3.double;
const _errs17 = errors;
if(!(((typeof data5 == "number") && (!(data5 % 1) && !isNaN(data5))) && (isFinite(data5)))){
validate18.errors = [{instancePath:instancePath+"/receive/double",schemaPath:"#/$defs/slots/properties/double/type",keyword:"type",params:{type: "integer"},message:"must be integer"}];
return false;
}
if(errors === _errs17){
if((typeof data5 == "number") && (isFinite(data5))){
if(data5 > 4096 || isNaN(data5)){
validate18.errors = [{instancePath:instancePath+"/receive/double",schemaPath:"#/$defs/slots/properties/double/maximum",keyword:"maximum",params:{comparison: "<=", limit: 4096},message:"must be <= 4096"}];
return false;
}
else {
if(data5 < 0 || isNaN(data5)){
validate18.errors = [{instancePath:instancePath+"/receive/double",schemaPath:"#/$defs/slots/properties/double/minimum",keyword:"minimum",params:{comparison: ">=", limit: 0},message:"must be >= 0"}];
return false;
}
}
}
}
var valid5 = _errs17 === errors;
}
else {
var valid5 = true;
}
if(valid5){
if(data3.quad !== undefined){
let data6 = data3.quad;
const _errs19 = errors;
if(!(((typeof data6 == "number") && (!(data6 % 1) && !isNaN(data6))) && (isFinite(data6)))){
validate18.errors = [{instancePath:instancePath+"/receive/quad",schemaPath:"#/$defs/slots/properties/quad/type",keyword:"type",params:{type: "integer"},message:"must be integer"}];
return false;
}
if(errors === _errs19){
if((typeof data6 == "number") && (isFinite(data6))){
if(data6 > 4096 || isNaN(data6)){
validate18.errors = [{instancePath:instancePath+"/receive/quad",schemaPath:"#/$defs/slots/properties/quad/maximum",keyword:"maximum",params:{comparison: "<=", limit: 4096},message:"must be <= 4096"}];
return false;
}
else {
if(data6 < 0 || isNaN(data6)){
validate18.errors = [{instancePath:instancePath+"/receive/quad",schemaPath:"#/$defs/slots/properties/quad/minimum",keyword:"minimum",params:{comparison: ">=", limit: 0},message:"must be >= 0"}];
return false;
}
}
}
}
var valid5 = _errs19 === errors;
}
else {
var valid5 = true;
}
}
}
}
}
}
else {
validate18.errors = [{instancePath:instancePath+"/receive",schemaPath:"#/$defs/slots/type",keyword:"type",params:{type: "object"},message:"must be object"}];
return false;
}
}
var valid0 = _errs11 === errors;
}
else {
var valid0 = true;
}
if(valid0){
if(data.send !== undefined){
let data7 = data.send;
const _errs21 = errors;
const _errs22 = errors;
if(errors === _errs22){
if(data7 && typeof data7 == "object" && !Array.isArray(data7)){
let missing2;
if((((data7.single === undefined) && (missing2 = "single")) || ((data7.double === undefined) && (missing2 = "double"))) || ((data7.quad === undefined) && (missing2 = "quad"))){
validate18.errors = [{instancePath:instancePath+"/send",schemaPath:"#/$defs/slots/required",keyword:"required",params:{missingProperty: missing2},message:"must have required property '"+missing2+"'"}];
return false;
}
else {
const _errs24 = errors;
for(const key2 in data7){
if(!(((key2 === "single") || (key2 === "double")) || (key2 === "quad"))){
validate18.errors = [{instancePath:instancePath+"/send",schemaPath:"#/$defs/slots/additionalProperties",keyword:"additionalProperties",params:{additionalProperty: key2},message:"must NOT have additional properties"}];
return false;
break;
}
}
if(_errs24 === errors){
if(data7.single !== undefined){
let data8 = data7.single;
const _errs25 = errors;
if(!(((typeof data8 == "number") && (!(data8 % 1) && !isNaN(data8))) && (isFinite(data8)))){
validate18.errors = [{instancePath:instancePath+"/send/single",schemaPath:"#/$defs/slots/properties/single/type",keyword:"type",params:{type: "integer"},message:"must be integer"}];
return false;
}
if(errors === _errs25){
if((typeof data8 == "number") && (isFinite(data8))){
if(data8 > 4096 || isNaN(data8)){
validate18.errors = [{instancePath:instancePath+"/send/single",schemaPath:"#/$defs/slots/properties/single/maximum",keyword:"maximum",params:{comparison: "<=", limit: 4096},message:"must be <= 4096"}];
return false;
}
else {
if(data8 < 0 || isNaN(data8)){
validate18.errors = [{instancePath:instancePath+"/send/single",schemaPath:"#/$defs/slots/properties/single/minimum",keyword:"minimum",params:{comparison: ">=", limit: 0},message:"must be >= 0"}];
return false;
}
}
}
}
var valid7 = _errs25 === errors;
}
else {
var valid7 = true;
}
if(valid7){
if(data7.double !== undefined){
let data9 = data7.double;
const _errs27 = errors;
if(!(((typeof data9 == "number") && (!(data9 % 1) && !isNaN(data9))) && (isFinite(data9)))){
validate18.errors = [{instancePath:instancePath+"/send/double",schemaPath:"#/$defs/slots/properties/double/type",keyword:"type",params:{type: "integer"},message:"must be integer"}];
return false;
}
if(errors === _errs27){
if((typeof data9 == "number") && (isFinite(data9))){
if(data9 > 4096 || isNaN(data9)){
validate18.errors = [{instancePath:instancePath+"/send/double",schemaPath:"#/$defs/slots/properties/double/maximum",keyword:"maximum",params:{comparison: "<=", limit: 4096},message:"must be <= 4096"}];
return false;
}
else {
if(data9 < 0 || isNaN(data9)){
validate18.errors = [{instancePath:instancePath+"/send/double",schemaPath:"#/$defs/slots/properties/double/minimum",keyword:"minimum",params:{comparison: ">=", limit: 0},message:"must be >= 0"}];
return false;
}
}
}
}
var valid7 = _errs27 === errors;
}
else {
var valid7 = true;
}
if(valid7){
if(data7.quad !== undefined){
let data10 = data7.quad;
const _errs29 = errors;
if(!(((typeof data10 == "number") && (!(data10 % 1) && !isNaN(data10))) && (isFinite(data10)))){
validate18.errors = [{instancePath:instancePath+"/send/quad",schemaPath:"#/$defs/slots/properties/quad/type",keyword:"type",params:{type: "integer"},message:"must be integer"}];
return false;
}
if(errors === _errs29){
if((typeof data10 == "number") && (isFinite(data10))){
if(data10 > 4096 || isNaN(data10)){
validate18.errors = [{instancePath:instancePath+"/send/quad",schemaPath:"#/$defs/slots/properties/quad/maximum",keyword:"maximum",params:{comparison: "<=", limit: 4096},message:"must be <= 4096"}];
return false;
}
else {
if(data10 < 0 || isNaN(data10)){
validate18.errors = [{instancePath:instancePath+"/send/quad",schemaPath:"#/$defs/slots/properties/quad/minimum",keyword:"minimum",params:{comparison: ">=", limit: 0},message:"must be >= 0"}];
return false;
}
}
}
}
var valid7 = _errs29 === errors;
}
else {
var valid7 = true;
}
}
}
}
}
}
else {
validate18.errors = [{instancePath:instancePath+"/send",schemaPath:"#/$defs/slots/type",keyword:"type",params:{type: "object"},message:"must be object"}];
return false;
}
}
var valid0 = _errs21 === errors;
}
else {
var valid0 = true;
}
if(valid0){
if(data.cables !== undefined){
let data11 = data.cables;
const _errs31 = errors;
if(errors === _errs31){
if(Array.isArray(data11)){
if(data11.length > 16){
validate18.errors = [{instancePath:instancePath+"/cables",schemaPath:"#/properties/cables/maxItems",keyword:"maxItems",params:{limit: 16},message:"must NOT have more than 16 items"}];
return false;
}
else {
var valid8 = true;
const len0 = data11.length;
for(let i0=0; i0<len0; i0++){
let data12 = data11[i0];
const _errs33 = errors;
if(errors === _errs33){
if(data12 && typeof data12 == "object" && !Array.isArray(data12)){
let missing3;
if((((data12.kind === undefined) && (missing3 = "kind")) || ((data12.maxMetres === undefined) && (missing3 = "maxMetres"))) || ((data12.provenance === undefined) && (missing3 = "provenance"))){
validate18.errors = [{instancePath:instancePath+"/cables/" + i0,schemaPath:"#/properties/cables/items/required",keyword:"required",params:{missingProperty: missing3},message:"must have required property '"+missing3+"'"}];
return false;
}
else {
const _errs35 = errors;
for(const key3 in data12){
if(!(((key3 === "kind") || (key3 === "maxMetres")) || (key3 === "provenance"))){
validate18.errors = [{instancePath:instancePath+"/cables/" + i0,schemaPath:"#/properties/cables/items/additionalProperties",keyword:"additionalProperties",params:{additionalProperty: key3},message:"must NOT have additional properties"}];
return false;
break;
}
}
if(_errs35 === errors){
if(data12.kind !== undefined){
let data13 = data12.kind;
const _errs36 = errors;
if(!(((((((((data13 === "cat5e") || (data13 === "cat5e-shielded")) || (data13 === "coax-75")) || (data13 === "fibre")) || (data13 === "digital-110")) || (data13 === "microphone")) || (data13 === "multicore")) || (data13 === "loudspeaker")) || (data13 === "line"))){
validate18.errors = [{instancePath:instancePath+"/cables/" + i0+"/kind",schemaPath:"#/$defs/cableKind/enum",keyword:"enum",params:{allowedValues: schema34.enum},message:"must be equal to one of the allowed values"}];
return false;
}
var valid9 = _errs36 === errors;
}
else {
var valid9 = true;
}
if(valid9){
if(data12.maxMetres !== undefined){
let data14 = data12.maxMetres;
const _errs38 = errors;
if(errors === _errs38){
if((typeof data14 == "number") && (isFinite(data14))){
if(data14 > 100000 || isNaN(data14)){
validate18.errors = [{instancePath:instancePath+"/cables/" + i0+"/maxMetres",schemaPath:"#/properties/cables/items/properties/maxMetres/maximum",keyword:"maximum",params:{comparison: "<=", limit: 100000},message:"must be <= 100000"}];
return false;
}
else {
if(data14 < 0 || isNaN(data14)){
validate18.errors = [{instancePath:instancePath+"/cables/" + i0+"/maxMetres",schemaPath:"#/properties/cables/items/properties/maxMetres/minimum",keyword:"minimum",params:{comparison: ">=", limit: 0},message:"must be >= 0"}];
return false;
}
}
}
else {
validate18.errors = [{instancePath:instancePath+"/cables/" + i0+"/maxMetres",schemaPath:"#/properties/cables/items/properties/maxMetres/type",keyword:"type",params:{type: "number"},message:"must be number"}];
return false;
}
}
var valid9 = _errs38 === errors;
}
else {
var valid9 = true;
}
if(valid9){
if(data12.provenance !== undefined){
let data15 = data12.provenance;
const _errs40 = errors;
if(!((((data15 === "standard") || (data15 === "maker's sheet")) || (data15 === "measured")) || (data15 === "assumed"))){
validate18.errors = [{instancePath:instancePath+"/cables/" + i0+"/provenance",schemaPath:"#/$defs/provenance/enum",keyword:"enum",params:{allowedValues: schema27.enum},message:"must be equal to one of the allowed values"}];
return false;
}
var valid9 = _errs40 === errors;
}
else {
var valid9 = true;
}
}
}
}
}
}
else {
validate18.errors = [{instancePath:instancePath+"/cables/" + i0,schemaPath:"#/properties/cables/items/type",keyword:"type",params:{type: "object"},message:"must be object"}];
return false;
}
}
var valid8 = _errs33 === errors;
if(!valid8){
break;
}
}
}
}
else {
validate18.errors = [{instancePath:instancePath+"/cables",schemaPath:"#/properties/cables/type",keyword:"type",params:{type: "array"},message:"must be array"}];
return false;
}
}
var valid0 = _errs31 === errors;
}
else {
var valid0 = true;
}
if(valid0){
if(data.block !== undefined){
let data16 = data.block;
const _errs42 = errors;
if(!(((typeof data16 == "number") && (!(data16 % 1) && !isNaN(data16))) && (isFinite(data16)))){
validate18.errors = [{instancePath:instancePath+"/block",schemaPath:"#/properties/block/type",keyword:"type",params:{type: "integer"},message:"must be integer"}];
return false;
}
if(errors === _errs42){
if((typeof data16 == "number") && (isFinite(data16))){
if(data16 > 1024 || isNaN(data16)){
validate18.errors = [{instancePath:instancePath+"/block",schemaPath:"#/properties/block/maximum",keyword:"maximum",params:{comparison: "<=", limit: 1024},message:"must be <= 1024"}];
return false;
}
else {
if(data16 < 1 || isNaN(data16)){
validate18.errors = [{instancePath:instancePath+"/block",schemaPath:"#/properties/block/minimum",keyword:"minimum",params:{comparison: ">=", limit: 1},message:"must be >= 1"}];
return false;
}
}
}
}
var valid0 = _errs42 === errors;
}
else {
var valid0 = true;
}
if(valid0){
if(data.carriesClock !== undefined){
const _errs44 = errors;
if(typeof data.carriesClock !== "boolean"){
validate18.errors = [{instancePath:instancePath+"/carriesClock",schemaPath:"#/properties/carriesClock/type",keyword:"type",params:{type: "boolean"},message:"must be boolean"}];
return false;
}
var valid0 = _errs44 === errors;
}
else {
var valid0 = true;
}
if(valid0){
if(data.carriesPreamp !== undefined){
const _errs46 = errors;
if(typeof data.carriesPreamp !== "boolean"){
validate18.errors = [{instancePath:instancePath+"/carriesPreamp",schemaPath:"#/properties/carriesPreamp/type",keyword:"type",params:{type: "boolean"},message:"must be boolean"}];
return false;
}
var valid0 = _errs46 === errors;
}
else {
var valid0 = true;
}
if(valid0){
if(data.convertsRate !== undefined){
const _errs48 = errors;
if(typeof data.convertsRate !== "boolean"){
validate18.errors = [{instancePath:instancePath+"/convertsRate",schemaPath:"#/properties/convertsRate/type",keyword:"type",params:{type: "boolean"},message:"must be boolean"}];
return false;
}
var valid0 = _errs48 === errors;
}
else {
var valid0 = true;
}
if(valid0){
if(data.receiveDelay !== undefined){
const _errs50 = errors;
if(!(validate15(data.receiveDelay, {instancePath:instancePath+"/receiveDelay",parentData:data,parentDataProperty:"receiveDelay",rootData}))){
vErrors = vErrors === null ? validate15.errors : vErrors.concat(validate15.errors);
errors = vErrors.length;
}
var valid0 = _errs50 === errors;
}
else {
var valid0 = true;
}
if(valid0){
if(data.sendDelay !== undefined){
const _errs51 = errors;
if(!(validate15(data.sendDelay, {instancePath:instancePath+"/sendDelay",parentData:data,parentDataProperty:"sendDelay",rootData}))){
vErrors = vErrors === null ? validate15.errors : vErrors.concat(validate15.errors);
errors = vErrors.length;
}
var valid0 = _errs51 === errors;
}
else {
var valid0 = true;
}
}
}
}
}
}
}
}
}
}
}
}
}
}
}
else {
validate18.errors = [{instancePath,schemaPath:"#/type",keyword:"type",params:{type: "object"},message:"must be object"}];
return false;
}
}
validate18.errors = vErrors;
return errors === 0;
}

const schema36 = {"type":"object","properties":{"sections":{"type":"array","items":{"$ref":"#/$defs/section"},"maxItems":32},"processing":{"$ref":"#/$defs/delay"}},"required":["sections","processing"],"additionalProperties":false};
const schema37 = {"type":"object","properties":{"id":{"$ref":"#/$defs/id"},"name":{"$ref":"#/$defs/name"},"role":{"enum":["channel","direct","mix","main","matrix"]},"count":{"type":"integer","minimum":1,"maximum":1024},"from":{"type":"array","items":{"$ref":"#/$defs/id"},"maxItems":64},"block":{"type":"integer","minimum":1,"maximum":1024}},"required":["id","name","role","count","from","block"],"additionalProperties":false};

function validate23(data, {instancePath="", parentData, parentDataProperty, rootData=data}={}){
let vErrors = null;
let errors = 0;
if(errors === 0){
if(data && typeof data == "object" && !Array.isArray(data)){
let missing0;
if(((((((data.id === undefined) && (missing0 = "id")) || ((data.name === undefined) && (missing0 = "name"))) || ((data.role === undefined) && (missing0 = "role"))) || ((data.count === undefined) && (missing0 = "count"))) || ((data.from === undefined) && (missing0 = "from"))) || ((data.block === undefined) && (missing0 = "block"))){
validate23.errors = [{instancePath,schemaPath:"#/required",keyword:"required",params:{missingProperty: missing0},message:"must have required property '"+missing0+"'"}];
return false;
}
else {
const _errs1 = errors;
for(const key0 in data){
if(!((((((key0 === "id") || (key0 === "name")) || (key0 === "role")) || (key0 === "count")) || (key0 === "from")) || (key0 === "block"))){
validate23.errors = [{instancePath,schemaPath:"#/additionalProperties",keyword:"additionalProperties",params:{additionalProperty: key0},message:"must NOT have additional properties"}];
return false;
break;
}
}
if(_errs1 === errors){
if(data.id !== undefined){
let data0 = data.id;
const _errs2 = errors;
const _errs3 = errors;
if(errors === _errs3){
if(typeof data0 === "string"){
if(!pattern0.test(data0)){
validate23.errors = [{instancePath:instancePath+"/id",schemaPath:"#/$defs/id/pattern",keyword:"pattern",params:{pattern: "^[A-Za-z0-9][A-Za-z0-9._-]{0,63}$"},message:"must match pattern \""+"^[A-Za-z0-9][A-Za-z0-9._-]{0,63}$"+"\""}];
return false;
}
}
else {
validate23.errors = [{instancePath:instancePath+"/id",schemaPath:"#/$defs/id/type",keyword:"type",params:{type: "string"},message:"must be string"}];
return false;
}
}
var valid0 = _errs2 === errors;
}
else {
var valid0 = true;
}
if(valid0){
if(data.name !== undefined){
let data1 = data.name;
const _errs5 = errors;
const _errs6 = errors;
if(errors === _errs6){
if(typeof data1 === "string"){
if(!pattern1.test(data1)){
validate23.errors = [{instancePath:instancePath+"/name",schemaPath:"#/$defs/name/pattern",keyword:"pattern",params:{pattern: "^[\\s\\S]{1,200}$"},message:"must match pattern \""+"^[\\s\\S]{1,200}$"+"\""}];
return false;
}
}
else {
validate23.errors = [{instancePath:instancePath+"/name",schemaPath:"#/$defs/name/type",keyword:"type",params:{type: "string"},message:"must be string"}];
return false;
}
}
var valid0 = _errs5 === errors;
}
else {
var valid0 = true;
}
if(valid0){
if(data.role !== undefined){
let data2 = data.role;
const _errs8 = errors;
if(!(((((data2 === "channel") || (data2 === "direct")) || (data2 === "mix")) || (data2 === "main")) || (data2 === "matrix"))){
validate23.errors = [{instancePath:instancePath+"/role",schemaPath:"#/properties/role/enum",keyword:"enum",params:{allowedValues: schema37.properties.role.enum},message:"must be equal to one of the allowed values"}];
return false;
}
var valid0 = _errs8 === errors;
}
else {
var valid0 = true;
}
if(valid0){
if(data.count !== undefined){
let data3 = data.count;
const _errs9 = errors;
if(!(((typeof data3 == "number") && (!(data3 % 1) && !isNaN(data3))) && (isFinite(data3)))){
validate23.errors = [{instancePath:instancePath+"/count",schemaPath:"#/properties/count/type",keyword:"type",params:{type: "integer"},message:"must be integer"}];
return false;
}
if(errors === _errs9){
if((typeof data3 == "number") && (isFinite(data3))){
if(data3 > 1024 || isNaN(data3)){
validate23.errors = [{instancePath:instancePath+"/count",schemaPath:"#/properties/count/maximum",keyword:"maximum",params:{comparison: "<=", limit: 1024},message:"must be <= 1024"}];
return false;
}
else {
if(data3 < 1 || isNaN(data3)){
validate23.errors = [{instancePath:instancePath+"/count",schemaPath:"#/properties/count/minimum",keyword:"minimum",params:{comparison: ">=", limit: 1},message:"must be >= 1"}];
return false;
}
}
}
}
var valid0 = _errs9 === errors;
}
else {
var valid0 = true;
}
if(valid0){
if(data.from !== undefined){
let data4 = data.from;
const _errs11 = errors;
if(errors === _errs11){
if(Array.isArray(data4)){
if(data4.length > 64){
validate23.errors = [{instancePath:instancePath+"/from",schemaPath:"#/properties/from/maxItems",keyword:"maxItems",params:{limit: 64},message:"must NOT have more than 64 items"}];
return false;
}
else {
var valid3 = true;
const len0 = data4.length;
for(let i0=0; i0<len0; i0++){
let data5 = data4[i0];
const _errs13 = errors;
const _errs14 = errors;
if(errors === _errs14){
if(typeof data5 === "string"){
if(!pattern0.test(data5)){
validate23.errors = [{instancePath:instancePath+"/from/" + i0,schemaPath:"#/$defs/id/pattern",keyword:"pattern",params:{pattern: "^[A-Za-z0-9][A-Za-z0-9._-]{0,63}$"},message:"must match pattern \""+"^[A-Za-z0-9][A-Za-z0-9._-]{0,63}$"+"\""}];
return false;
}
}
else {
validate23.errors = [{instancePath:instancePath+"/from/" + i0,schemaPath:"#/$defs/id/type",keyword:"type",params:{type: "string"},message:"must be string"}];
return false;
}
}
var valid3 = _errs13 === errors;
if(!valid3){
break;
}
}
}
}
else {
validate23.errors = [{instancePath:instancePath+"/from",schemaPath:"#/properties/from/type",keyword:"type",params:{type: "array"},message:"must be array"}];
return false;
}
}
var valid0 = _errs11 === errors;
}
else {
var valid0 = true;
}
if(valid0){
if(data.block !== undefined){
let data6 = data.block;
const _errs16 = errors;
if(!(((typeof data6 == "number") && (!(data6 % 1) && !isNaN(data6))) && (isFinite(data6)))){
validate23.errors = [{instancePath:instancePath+"/block",schemaPath:"#/properties/block/type",keyword:"type",params:{type: "integer"},message:"must be integer"}];
return false;
}
if(errors === _errs16){
if((typeof data6 == "number") && (isFinite(data6))){
if(data6 > 1024 || isNaN(data6)){
validate23.errors = [{instancePath:instancePath+"/block",schemaPath:"#/properties/block/maximum",keyword:"maximum",params:{comparison: "<=", limit: 1024},message:"must be <= 1024"}];
return false;
}
else {
if(data6 < 1 || isNaN(data6)){
validate23.errors = [{instancePath:instancePath+"/block",schemaPath:"#/properties/block/minimum",keyword:"minimum",params:{comparison: ">=", limit: 1},message:"must be >= 1"}];
return false;
}
}
}
}
var valid0 = _errs16 === errors;
}
else {
var valid0 = true;
}
}
}
}
}
}
}
}
}
else {
validate23.errors = [{instancePath,schemaPath:"#/type",keyword:"type",params:{type: "object"},message:"must be object"}];
return false;
}
}
validate23.errors = vErrors;
return errors === 0;
}


function validate22(data, {instancePath="", parentData, parentDataProperty, rootData=data}={}){
let vErrors = null;
let errors = 0;
if(errors === 0){
if(data && typeof data == "object" && !Array.isArray(data)){
let missing0;
if(((data.sections === undefined) && (missing0 = "sections")) || ((data.processing === undefined) && (missing0 = "processing"))){
validate22.errors = [{instancePath,schemaPath:"#/required",keyword:"required",params:{missingProperty: missing0},message:"must have required property '"+missing0+"'"}];
return false;
}
else {
const _errs1 = errors;
for(const key0 in data){
if(!((key0 === "sections") || (key0 === "processing"))){
validate22.errors = [{instancePath,schemaPath:"#/additionalProperties",keyword:"additionalProperties",params:{additionalProperty: key0},message:"must NOT have additional properties"}];
return false;
break;
}
}
if(_errs1 === errors){
if(data.sections !== undefined){
let data0 = data.sections;
const _errs2 = errors;
if(errors === _errs2){
if(Array.isArray(data0)){
if(data0.length > 32){
validate22.errors = [{instancePath:instancePath+"/sections",schemaPath:"#/properties/sections/maxItems",keyword:"maxItems",params:{limit: 32},message:"must NOT have more than 32 items"}];
return false;
}
else {
var valid1 = true;
const len0 = data0.length;
for(let i0=0; i0<len0; i0++){
const _errs4 = errors;
if(!(validate23(data0[i0], {instancePath:instancePath+"/sections/" + i0,parentData:data0,parentDataProperty:i0,rootData}))){
vErrors = vErrors === null ? validate23.errors : vErrors.concat(validate23.errors);
errors = vErrors.length;
}
var valid1 = _errs4 === errors;
if(!valid1){
break;
}
}
}
}
else {
validate22.errors = [{instancePath:instancePath+"/sections",schemaPath:"#/properties/sections/type",keyword:"type",params:{type: "array"},message:"must be array"}];
return false;
}
}
var valid0 = _errs2 === errors;
}
else {
var valid0 = true;
}
if(valid0){
if(data.processing !== undefined){
const _errs5 = errors;
if(!(validate15(data.processing, {instancePath:instancePath+"/processing",parentData:data,parentDataProperty:"processing",rootData}))){
vErrors = vErrors === null ? validate15.errors : vErrors.concat(validate15.errors);
errors = vErrors.length;
}
var valid0 = _errs5 === errors;
}
else {
var valid0 = true;
}
}
}
}
}
else {
validate22.errors = [{instancePath,schemaPath:"#/type",keyword:"type",params:{type: "object"},message:"must be object"}];
return false;
}
}
validate22.errors = vErrors;
return errors === 0;
}

const schema41 = {"type":"object","required":["kind"],"discriminator":{"propertyName":"kind"},"oneOf":[{"type":"object","properties":{"kind":{"const":"patch"},"to":{"$ref":"#/$defs/range"},"from":{"type":"array","items":{"$ref":"#/$defs/range"},"maxItems":256},"run":{"type":"integer","minimum":1,"maximum":1024},"delay":{"$ref":"#/$defs/delay"}},"required":["kind","to","from","run"],"additionalProperties":false},{"type":"object","properties":{"kind":{"const":"wired"},"to":{"$ref":"#/$defs/run"},"from":{"$ref":"#/$defs/run"},"count":{"type":"integer","minimum":1,"maximum":4096},"delay":{"$ref":"#/$defs/delay"}},"required":["kind","to","from","count"],"additionalProperties":false},{"type":"object","properties":{"kind":{"const":"carry"},"to":{"$ref":"#/$defs/id"},"from":{"$ref":"#/$defs/id"},"shift":{"type":"integer","minimum":-4096,"maximum":4096},"delay":{"$ref":"#/$defs/delay"}},"required":["kind","to","from","shift"],"additionalProperties":false}]};
const schema42 = {"type":"object","properties":{"group":{"$ref":"#/$defs/id"},"first":{"type":"integer","minimum":1,"maximum":4096},"count":{"type":"integer","minimum":1,"maximum":4096}},"required":["group","first","count"],"additionalProperties":false};

function validate28(data, {instancePath="", parentData, parentDataProperty, rootData=data}={}){
let vErrors = null;
let errors = 0;
if(errors === 0){
if(data && typeof data == "object" && !Array.isArray(data)){
let missing0;
if((((data.group === undefined) && (missing0 = "group")) || ((data.first === undefined) && (missing0 = "first"))) || ((data.count === undefined) && (missing0 = "count"))){
validate28.errors = [{instancePath,schemaPath:"#/required",keyword:"required",params:{missingProperty: missing0},message:"must have required property '"+missing0+"'"}];
return false;
}
else {
const _errs1 = errors;
for(const key0 in data){
if(!(((key0 === "group") || (key0 === "first")) || (key0 === "count"))){
validate28.errors = [{instancePath,schemaPath:"#/additionalProperties",keyword:"additionalProperties",params:{additionalProperty: key0},message:"must NOT have additional properties"}];
return false;
break;
}
}
if(_errs1 === errors){
if(data.group !== undefined){
let data0 = data.group;
const _errs2 = errors;
const _errs3 = errors;
if(errors === _errs3){
if(typeof data0 === "string"){
if(!pattern0.test(data0)){
validate28.errors = [{instancePath:instancePath+"/group",schemaPath:"#/$defs/id/pattern",keyword:"pattern",params:{pattern: "^[A-Za-z0-9][A-Za-z0-9._-]{0,63}$"},message:"must match pattern \""+"^[A-Za-z0-9][A-Za-z0-9._-]{0,63}$"+"\""}];
return false;
}
}
else {
validate28.errors = [{instancePath:instancePath+"/group",schemaPath:"#/$defs/id/type",keyword:"type",params:{type: "string"},message:"must be string"}];
return false;
}
}
var valid0 = _errs2 === errors;
}
else {
var valid0 = true;
}
if(valid0){
if(data.first !== undefined){
let data1 = data.first;
const _errs5 = errors;
if(!(((typeof data1 == "number") && (!(data1 % 1) && !isNaN(data1))) && (isFinite(data1)))){
validate28.errors = [{instancePath:instancePath+"/first",schemaPath:"#/properties/first/type",keyword:"type",params:{type: "integer"},message:"must be integer"}];
return false;
}
if(errors === _errs5){
if((typeof data1 == "number") && (isFinite(data1))){
if(data1 > 4096 || isNaN(data1)){
validate28.errors = [{instancePath:instancePath+"/first",schemaPath:"#/properties/first/maximum",keyword:"maximum",params:{comparison: "<=", limit: 4096},message:"must be <= 4096"}];
return false;
}
else {
if(data1 < 1 || isNaN(data1)){
validate28.errors = [{instancePath:instancePath+"/first",schemaPath:"#/properties/first/minimum",keyword:"minimum",params:{comparison: ">=", limit: 1},message:"must be >= 1"}];
return false;
}
}
}
}
var valid0 = _errs5 === errors;
}
else {
var valid0 = true;
}
if(valid0){
if(data.count !== undefined){
let data2 = data.count;
const _errs7 = errors;
if(!(((typeof data2 == "number") && (!(data2 % 1) && !isNaN(data2))) && (isFinite(data2)))){
validate28.errors = [{instancePath:instancePath+"/count",schemaPath:"#/properties/count/type",keyword:"type",params:{type: "integer"},message:"must be integer"}];
return false;
}
if(errors === _errs7){
if((typeof data2 == "number") && (isFinite(data2))){
if(data2 > 4096 || isNaN(data2)){
validate28.errors = [{instancePath:instancePath+"/count",schemaPath:"#/properties/count/maximum",keyword:"maximum",params:{comparison: "<=", limit: 4096},message:"must be <= 4096"}];
return false;
}
else {
if(data2 < 1 || isNaN(data2)){
validate28.errors = [{instancePath:instancePath+"/count",schemaPath:"#/properties/count/minimum",keyword:"minimum",params:{comparison: ">=", limit: 1},message:"must be >= 1"}];
return false;
}
}
}
}
var valid0 = _errs7 === errors;
}
else {
var valid0 = true;
}
}
}
}
}
}
else {
validate28.errors = [{instancePath,schemaPath:"#/type",keyword:"type",params:{type: "object"},message:"must be object"}];
return false;
}
}
validate28.errors = vErrors;
return errors === 0;
}

const schema44 = {"type":"object","properties":{"group":{"$ref":"#/$defs/id"},"first":{"type":"integer","minimum":1,"maximum":4096},"perPosition":{"type":"integer","minimum":-4096,"maximum":4096}},"required":["group","first"],"additionalProperties":false};

function validate32(data, {instancePath="", parentData, parentDataProperty, rootData=data}={}){
let vErrors = null;
let errors = 0;
if(errors === 0){
if(data && typeof data == "object" && !Array.isArray(data)){
let missing0;
if(((data.group === undefined) && (missing0 = "group")) || ((data.first === undefined) && (missing0 = "first"))){
validate32.errors = [{instancePath,schemaPath:"#/required",keyword:"required",params:{missingProperty: missing0},message:"must have required property '"+missing0+"'"}];
return false;
}
else {
const _errs1 = errors;
for(const key0 in data){
if(!(((key0 === "group") || (key0 === "first")) || (key0 === "perPosition"))){
validate32.errors = [{instancePath,schemaPath:"#/additionalProperties",keyword:"additionalProperties",params:{additionalProperty: key0},message:"must NOT have additional properties"}];
return false;
break;
}
}
if(_errs1 === errors){
if(data.group !== undefined){
let data0 = data.group;
const _errs2 = errors;
const _errs3 = errors;
if(errors === _errs3){
if(typeof data0 === "string"){
if(!pattern0.test(data0)){
validate32.errors = [{instancePath:instancePath+"/group",schemaPath:"#/$defs/id/pattern",keyword:"pattern",params:{pattern: "^[A-Za-z0-9][A-Za-z0-9._-]{0,63}$"},message:"must match pattern \""+"^[A-Za-z0-9][A-Za-z0-9._-]{0,63}$"+"\""}];
return false;
}
}
else {
validate32.errors = [{instancePath:instancePath+"/group",schemaPath:"#/$defs/id/type",keyword:"type",params:{type: "string"},message:"must be string"}];
return false;
}
}
var valid0 = _errs2 === errors;
}
else {
var valid0 = true;
}
if(valid0){
if(data.first !== undefined){
let data1 = data.first;
const _errs5 = errors;
if(!(((typeof data1 == "number") && (!(data1 % 1) && !isNaN(data1))) && (isFinite(data1)))){
validate32.errors = [{instancePath:instancePath+"/first",schemaPath:"#/properties/first/type",keyword:"type",params:{type: "integer"},message:"must be integer"}];
return false;
}
if(errors === _errs5){
if((typeof data1 == "number") && (isFinite(data1))){
if(data1 > 4096 || isNaN(data1)){
validate32.errors = [{instancePath:instancePath+"/first",schemaPath:"#/properties/first/maximum",keyword:"maximum",params:{comparison: "<=", limit: 4096},message:"must be <= 4096"}];
return false;
}
else {
if(data1 < 1 || isNaN(data1)){
validate32.errors = [{instancePath:instancePath+"/first",schemaPath:"#/properties/first/minimum",keyword:"minimum",params:{comparison: ">=", limit: 1},message:"must be >= 1"}];
return false;
}
}
}
}
var valid0 = _errs5 === errors;
}
else {
var valid0 = true;
}
if(valid0){
if(data.perPosition !== undefined){
let data2 = data.perPosition;
const _errs7 = errors;
if(!(((typeof data2 == "number") && (!(data2 % 1) && !isNaN(data2))) && (isFinite(data2)))){
validate32.errors = [{instancePath:instancePath+"/perPosition",schemaPath:"#/properties/perPosition/type",keyword:"type",params:{type: "integer"},message:"must be integer"}];
return false;
}
if(errors === _errs7){
if((typeof data2 == "number") && (isFinite(data2))){
if(data2 > 4096 || isNaN(data2)){
validate32.errors = [{instancePath:instancePath+"/perPosition",schemaPath:"#/properties/perPosition/maximum",keyword:"maximum",params:{comparison: "<=", limit: 4096},message:"must be <= 4096"}];
return false;
}
else {
if(data2 < -4096 || isNaN(data2)){
validate32.errors = [{instancePath:instancePath+"/perPosition",schemaPath:"#/properties/perPosition/minimum",keyword:"minimum",params:{comparison: ">=", limit: -4096},message:"must be >= -4096"}];
return false;
}
}
}
}
var valid0 = _errs7 === errors;
}
else {
var valid0 = true;
}
}
}
}
}
}
else {
validate32.errors = [{instancePath,schemaPath:"#/type",keyword:"type",params:{type: "object"},message:"must be object"}];
return false;
}
}
validate32.errors = vErrors;
return errors === 0;
}


function validate27(data, {instancePath="", parentData, parentDataProperty, rootData=data}={}){
let vErrors = null;
let errors = 0;
if(errors === 0){
if(data && typeof data == "object" && !Array.isArray(data)){
let missing0;
if((data.kind === undefined) && (missing0 = "kind")){
validate27.errors = [{instancePath,schemaPath:"#/required",keyword:"required",params:{missingProperty: missing0},message:"must have required property '"+missing0+"'"}];
return false;
}
else {
const tag0 = data.kind;
if(typeof tag0 == "string"){
if(tag0 === "patch"){
const _errs2 = errors;
if(errors === _errs2){
if(data && typeof data == "object" && !Array.isArray(data)){
let missing1;
if(((((data.kind === undefined) && (missing1 = "kind")) || ((data.to === undefined) && (missing1 = "to"))) || ((data.from === undefined) && (missing1 = "from"))) || ((data.run === undefined) && (missing1 = "run"))){
validate27.errors = [{instancePath,schemaPath:"#/oneOf/0/required",keyword:"required",params:{missingProperty: missing1},message:"must have required property '"+missing1+"'"}];
return false;
}
else {
const _errs4 = errors;
for(const key0 in data){
if(!(((((key0 === "kind") || (key0 === "to")) || (key0 === "from")) || (key0 === "run")) || (key0 === "delay"))){
validate27.errors = [{instancePath,schemaPath:"#/oneOf/0/additionalProperties",keyword:"additionalProperties",params:{additionalProperty: key0},message:"must NOT have additional properties"}];
return false;
break;
}
}
if(_errs4 === errors){
if(data.kind !== undefined){
const _errs5 = errors;
if("patch" !== data.kind){
validate27.errors = [{instancePath:instancePath+"/kind",schemaPath:"#/oneOf/0/properties/kind/const",keyword:"const",params:{allowedValue: "patch"},message:"must be equal to constant"}];
return false;
}
var valid2 = _errs5 === errors;
}
else {
var valid2 = true;
}
if(valid2){
if(data.to !== undefined){
const _errs6 = errors;
if(!(validate28(data.to, {instancePath:instancePath+"/to",parentData:data,parentDataProperty:"to",rootData}))){
vErrors = vErrors === null ? validate28.errors : vErrors.concat(validate28.errors);
errors = vErrors.length;
}
var valid2 = _errs6 === errors;
}
else {
var valid2 = true;
}
if(valid2){
if(data.from !== undefined){
let data2 = data.from;
const _errs7 = errors;
if(errors === _errs7){
if(Array.isArray(data2)){
if(data2.length > 256){
validate27.errors = [{instancePath:instancePath+"/from",schemaPath:"#/oneOf/0/properties/from/maxItems",keyword:"maxItems",params:{limit: 256},message:"must NOT have more than 256 items"}];
return false;
}
else {
var valid3 = true;
const len0 = data2.length;
for(let i0=0; i0<len0; i0++){
const _errs9 = errors;
if(!(validate28(data2[i0], {instancePath:instancePath+"/from/" + i0,parentData:data2,parentDataProperty:i0,rootData}))){
vErrors = vErrors === null ? validate28.errors : vErrors.concat(validate28.errors);
errors = vErrors.length;
}
var valid3 = _errs9 === errors;
if(!valid3){
break;
}
}
}
}
else {
validate27.errors = [{instancePath:instancePath+"/from",schemaPath:"#/oneOf/0/properties/from/type",keyword:"type",params:{type: "array"},message:"must be array"}];
return false;
}
}
var valid2 = _errs7 === errors;
}
else {
var valid2 = true;
}
if(valid2){
if(data.run !== undefined){
let data4 = data.run;
const _errs10 = errors;
if(!(((typeof data4 == "number") && (!(data4 % 1) && !isNaN(data4))) && (isFinite(data4)))){
validate27.errors = [{instancePath:instancePath+"/run",schemaPath:"#/oneOf/0/properties/run/type",keyword:"type",params:{type: "integer"},message:"must be integer"}];
return false;
}
if(errors === _errs10){
if((typeof data4 == "number") && (isFinite(data4))){
if(data4 > 1024 || isNaN(data4)){
validate27.errors = [{instancePath:instancePath+"/run",schemaPath:"#/oneOf/0/properties/run/maximum",keyword:"maximum",params:{comparison: "<=", limit: 1024},message:"must be <= 1024"}];
return false;
}
else {
if(data4 < 1 || isNaN(data4)){
validate27.errors = [{instancePath:instancePath+"/run",schemaPath:"#/oneOf/0/properties/run/minimum",keyword:"minimum",params:{comparison: ">=", limit: 1},message:"must be >= 1"}];
return false;
}
}
}
}
var valid2 = _errs10 === errors;
}
else {
var valid2 = true;
}
if(valid2){
if(data.delay !== undefined){
const _errs12 = errors;
if(!(validate15(data.delay, {instancePath:instancePath+"/delay",parentData:data,parentDataProperty:"delay",rootData}))){
vErrors = vErrors === null ? validate15.errors : vErrors.concat(validate15.errors);
errors = vErrors.length;
}
var valid2 = _errs12 === errors;
}
else {
var valid2 = true;
}
}
}
}
}
}
}
}
else {
validate27.errors = [{instancePath,schemaPath:"#/oneOf/0/type",keyword:"type",params:{type: "object"},message:"must be object"}];
return false;
}
}
}
else if(tag0 === "wired"){
const _errs13 = errors;
if(errors === _errs13){
if(data && typeof data == "object" && !Array.isArray(data)){
let missing2;
if(((((data.kind === undefined) && (missing2 = "kind")) || ((data.to === undefined) && (missing2 = "to"))) || ((data.from === undefined) && (missing2 = "from"))) || ((data.count === undefined) && (missing2 = "count"))){
validate27.errors = [{instancePath,schemaPath:"#/oneOf/1/required",keyword:"required",params:{missingProperty: missing2},message:"must have required property '"+missing2+"'"}];
return false;
}
else {
const _errs15 = errors;
for(const key1 in data){
if(!(((((key1 === "kind") || (key1 === "to")) || (key1 === "from")) || (key1 === "count")) || (key1 === "delay"))){
validate27.errors = [{instancePath,schemaPath:"#/oneOf/1/additionalProperties",keyword:"additionalProperties",params:{additionalProperty: key1},message:"must NOT have additional properties"}];
return false;
break;
}
}
if(_errs15 === errors){
if(data.kind !== undefined){
const _errs16 = errors;
if("wired" !== data.kind){
validate27.errors = [{instancePath:instancePath+"/kind",schemaPath:"#/oneOf/1/properties/kind/const",keyword:"const",params:{allowedValue: "wired"},message:"must be equal to constant"}];
return false;
}
var valid5 = _errs16 === errors;
}
else {
var valid5 = true;
}
if(valid5){
if(data.to !== undefined){
const _errs17 = errors;
if(!(validate32(data.to, {instancePath:instancePath+"/to",parentData:data,parentDataProperty:"to",rootData}))){
vErrors = vErrors === null ? validate32.errors : vErrors.concat(validate32.errors);
errors = vErrors.length;
}
var valid5 = _errs17 === errors;
}
else {
var valid5 = true;
}
if(valid5){
if(data.from !== undefined){
const _errs18 = errors;
if(!(validate32(data.from, {instancePath:instancePath+"/from",parentData:data,parentDataProperty:"from",rootData}))){
vErrors = vErrors === null ? validate32.errors : vErrors.concat(validate32.errors);
errors = vErrors.length;
}
var valid5 = _errs18 === errors;
}
else {
var valid5 = true;
}
if(valid5){
if(data.count !== undefined){
let data9 = data.count;
const _errs19 = errors;
if(!(((typeof data9 == "number") && (!(data9 % 1) && !isNaN(data9))) && (isFinite(data9)))){
validate27.errors = [{instancePath:instancePath+"/count",schemaPath:"#/oneOf/1/properties/count/type",keyword:"type",params:{type: "integer"},message:"must be integer"}];
return false;
}
if(errors === _errs19){
if((typeof data9 == "number") && (isFinite(data9))){
if(data9 > 4096 || isNaN(data9)){
validate27.errors = [{instancePath:instancePath+"/count",schemaPath:"#/oneOf/1/properties/count/maximum",keyword:"maximum",params:{comparison: "<=", limit: 4096},message:"must be <= 4096"}];
return false;
}
else {
if(data9 < 1 || isNaN(data9)){
validate27.errors = [{instancePath:instancePath+"/count",schemaPath:"#/oneOf/1/properties/count/minimum",keyword:"minimum",params:{comparison: ">=", limit: 1},message:"must be >= 1"}];
return false;
}
}
}
}
var valid5 = _errs19 === errors;
}
else {
var valid5 = true;
}
if(valid5){
if(data.delay !== undefined){
const _errs21 = errors;
if(!(validate15(data.delay, {instancePath:instancePath+"/delay",parentData:data,parentDataProperty:"delay",rootData}))){
vErrors = vErrors === null ? validate15.errors : vErrors.concat(validate15.errors);
errors = vErrors.length;
}
var valid5 = _errs21 === errors;
}
else {
var valid5 = true;
}
}
}
}
}
}
}
}
else {
validate27.errors = [{instancePath,schemaPath:"#/oneOf/1/type",keyword:"type",params:{type: "object"},message:"must be object"}];
return false;
}
}
}
else if(tag0 === "carry"){
const _errs22 = errors;
if(errors === _errs22){
if(data && typeof data == "object" && !Array.isArray(data)){
let missing3;
if(((((data.kind === undefined) && (missing3 = "kind")) || ((data.to === undefined) && (missing3 = "to"))) || ((data.from === undefined) && (missing3 = "from"))) || ((data.shift === undefined) && (missing3 = "shift"))){
validate27.errors = [{instancePath,schemaPath:"#/oneOf/2/required",keyword:"required",params:{missingProperty: missing3},message:"must have required property '"+missing3+"'"}];
return false;
}
else {
const _errs24 = errors;
for(const key2 in data){
if(!(((((key2 === "kind") || (key2 === "to")) || (key2 === "from")) || (key2 === "shift")) || (key2 === "delay"))){
validate27.errors = [{instancePath,schemaPath:"#/oneOf/2/additionalProperties",keyword:"additionalProperties",params:{additionalProperty: key2},message:"must NOT have additional properties"}];
return false;
break;
}
}
if(_errs24 === errors){
if(data.kind !== undefined){
const _errs25 = errors;
if("carry" !== data.kind){
validate27.errors = [{instancePath:instancePath+"/kind",schemaPath:"#/oneOf/2/properties/kind/const",keyword:"const",params:{allowedValue: "carry"},message:"must be equal to constant"}];
return false;
}
var valid7 = _errs25 === errors;
}
else {
var valid7 = true;
}
if(valid7){
if(data.to !== undefined){
let data12 = data.to;
const _errs26 = errors;
const _errs27 = errors;
if(errors === _errs27){
if(typeof data12 === "string"){
if(!pattern0.test(data12)){
validate27.errors = [{instancePath:instancePath+"/to",schemaPath:"#/$defs/id/pattern",keyword:"pattern",params:{pattern: "^[A-Za-z0-9][A-Za-z0-9._-]{0,63}$"},message:"must match pattern \""+"^[A-Za-z0-9][A-Za-z0-9._-]{0,63}$"+"\""}];
return false;
}
}
else {
validate27.errors = [{instancePath:instancePath+"/to",schemaPath:"#/$defs/id/type",keyword:"type",params:{type: "string"},message:"must be string"}];
return false;
}
}
var valid7 = _errs26 === errors;
}
else {
var valid7 = true;
}
if(valid7){
if(data.from !== undefined){
let data13 = data.from;
const _errs29 = errors;
const _errs30 = errors;
if(errors === _errs30){
if(typeof data13 === "string"){
if(!pattern0.test(data13)){
validate27.errors = [{instancePath:instancePath+"/from",schemaPath:"#/$defs/id/pattern",keyword:"pattern",params:{pattern: "^[A-Za-z0-9][A-Za-z0-9._-]{0,63}$"},message:"must match pattern \""+"^[A-Za-z0-9][A-Za-z0-9._-]{0,63}$"+"\""}];
return false;
}
}
else {
validate27.errors = [{instancePath:instancePath+"/from",schemaPath:"#/$defs/id/type",keyword:"type",params:{type: "string"},message:"must be string"}];
return false;
}
}
var valid7 = _errs29 === errors;
}
else {
var valid7 = true;
}
if(valid7){
if(data.shift !== undefined){
let data14 = data.shift;
const _errs32 = errors;
if(!(((typeof data14 == "number") && (!(data14 % 1) && !isNaN(data14))) && (isFinite(data14)))){
validate27.errors = [{instancePath:instancePath+"/shift",schemaPath:"#/oneOf/2/properties/shift/type",keyword:"type",params:{type: "integer"},message:"must be integer"}];
return false;
}
if(errors === _errs32){
if((typeof data14 == "number") && (isFinite(data14))){
if(data14 > 4096 || isNaN(data14)){
validate27.errors = [{instancePath:instancePath+"/shift",schemaPath:"#/oneOf/2/properties/shift/maximum",keyword:"maximum",params:{comparison: "<=", limit: 4096},message:"must be <= 4096"}];
return false;
}
else {
if(data14 < -4096 || isNaN(data14)){
validate27.errors = [{instancePath:instancePath+"/shift",schemaPath:"#/oneOf/2/properties/shift/minimum",keyword:"minimum",params:{comparison: ">=", limit: -4096},message:"must be >= -4096"}];
return false;
}
}
}
}
var valid7 = _errs32 === errors;
}
else {
var valid7 = true;
}
if(valid7){
if(data.delay !== undefined){
const _errs34 = errors;
if(!(validate15(data.delay, {instancePath:instancePath+"/delay",parentData:data,parentDataProperty:"delay",rootData}))){
vErrors = vErrors === null ? validate15.errors : vErrors.concat(validate15.errors);
errors = vErrors.length;
}
var valid7 = _errs34 === errors;
}
else {
var valid7 = true;
}
}
}
}
}
}
}
}
else {
validate27.errors = [{instancePath,schemaPath:"#/oneOf/2/type",keyword:"type",params:{type: "object"},message:"must be object"}];
return false;
}
}
}
else {
validate27.errors = [{instancePath,schemaPath:"#/discriminator",keyword:"discriminator",params:{error: "mapping", tag: "kind", tagValue: tag0},message:"value of tag \"kind\" must be in oneOf"}];
return false;
}
}
else {
validate27.errors = [{instancePath,schemaPath:"#/discriminator",keyword:"discriminator",params:{error: "tag", tag: "kind", tagValue: tag0},message:"tag \"kind\" must be string"}];
return false;
}
}
}
else {
validate27.errors = [{instancePath,schemaPath:"#/type",keyword:"type",params:{type: "object"},message:"must be object"}];
return false;
}
}
validate27.errors = vErrors;
return errors === 0;
}

const schema48 = {"type":"object","properties":{"id":{"$ref":"#/$defs/id"},"name":{"$ref":"#/$defs/name"},"rules":{"type":"array","items":{"$ref":"#/$defs/rule"},"maxItems":512},"positions":{"type":"array","items":{"type":"integer","minimum":1,"maximum":64},"maxItems":64},"clock":{"$ref":"#/$defs/id"}},"required":["id","name","rules"],"additionalProperties":false};

function validate38(data, {instancePath="", parentData, parentDataProperty, rootData=data}={}){
let vErrors = null;
let errors = 0;
if(errors === 0){
if(data && typeof data == "object" && !Array.isArray(data)){
let missing0;
if((((data.id === undefined) && (missing0 = "id")) || ((data.name === undefined) && (missing0 = "name"))) || ((data.rules === undefined) && (missing0 = "rules"))){
validate38.errors = [{instancePath,schemaPath:"#/required",keyword:"required",params:{missingProperty: missing0},message:"must have required property '"+missing0+"'"}];
return false;
}
else {
const _errs1 = errors;
for(const key0 in data){
if(!(((((key0 === "id") || (key0 === "name")) || (key0 === "rules")) || (key0 === "positions")) || (key0 === "clock"))){
validate38.errors = [{instancePath,schemaPath:"#/additionalProperties",keyword:"additionalProperties",params:{additionalProperty: key0},message:"must NOT have additional properties"}];
return false;
break;
}
}
if(_errs1 === errors){
if(data.id !== undefined){
let data0 = data.id;
const _errs2 = errors;
const _errs3 = errors;
if(errors === _errs3){
if(typeof data0 === "string"){
if(!pattern0.test(data0)){
validate38.errors = [{instancePath:instancePath+"/id",schemaPath:"#/$defs/id/pattern",keyword:"pattern",params:{pattern: "^[A-Za-z0-9][A-Za-z0-9._-]{0,63}$"},message:"must match pattern \""+"^[A-Za-z0-9][A-Za-z0-9._-]{0,63}$"+"\""}];
return false;
}
}
else {
validate38.errors = [{instancePath:instancePath+"/id",schemaPath:"#/$defs/id/type",keyword:"type",params:{type: "string"},message:"must be string"}];
return false;
}
}
var valid0 = _errs2 === errors;
}
else {
var valid0 = true;
}
if(valid0){
if(data.name !== undefined){
let data1 = data.name;
const _errs5 = errors;
const _errs6 = errors;
if(errors === _errs6){
if(typeof data1 === "string"){
if(!pattern1.test(data1)){
validate38.errors = [{instancePath:instancePath+"/name",schemaPath:"#/$defs/name/pattern",keyword:"pattern",params:{pattern: "^[\\s\\S]{1,200}$"},message:"must match pattern \""+"^[\\s\\S]{1,200}$"+"\""}];
return false;
}
}
else {
validate38.errors = [{instancePath:instancePath+"/name",schemaPath:"#/$defs/name/type",keyword:"type",params:{type: "string"},message:"must be string"}];
return false;
}
}
var valid0 = _errs5 === errors;
}
else {
var valid0 = true;
}
if(valid0){
if(data.rules !== undefined){
let data2 = data.rules;
const _errs8 = errors;
if(errors === _errs8){
if(Array.isArray(data2)){
if(data2.length > 512){
validate38.errors = [{instancePath:instancePath+"/rules",schemaPath:"#/properties/rules/maxItems",keyword:"maxItems",params:{limit: 512},message:"must NOT have more than 512 items"}];
return false;
}
else {
var valid3 = true;
const len0 = data2.length;
for(let i0=0; i0<len0; i0++){
const _errs10 = errors;
if(!(validate27(data2[i0], {instancePath:instancePath+"/rules/" + i0,parentData:data2,parentDataProperty:i0,rootData}))){
vErrors = vErrors === null ? validate27.errors : vErrors.concat(validate27.errors);
errors = vErrors.length;
}
var valid3 = _errs10 === errors;
if(!valid3){
break;
}
}
}
}
else {
validate38.errors = [{instancePath:instancePath+"/rules",schemaPath:"#/properties/rules/type",keyword:"type",params:{type: "array"},message:"must be array"}];
return false;
}
}
var valid0 = _errs8 === errors;
}
else {
var valid0 = true;
}
if(valid0){
if(data.positions !== undefined){
let data4 = data.positions;
const _errs11 = errors;
if(errors === _errs11){
if(Array.isArray(data4)){
if(data4.length > 64){
validate38.errors = [{instancePath:instancePath+"/positions",schemaPath:"#/properties/positions/maxItems",keyword:"maxItems",params:{limit: 64},message:"must NOT have more than 64 items"}];
return false;
}
else {
var valid4 = true;
const len1 = data4.length;
for(let i1=0; i1<len1; i1++){
let data5 = data4[i1];
const _errs13 = errors;
if(!(((typeof data5 == "number") && (!(data5 % 1) && !isNaN(data5))) && (isFinite(data5)))){
validate38.errors = [{instancePath:instancePath+"/positions/" + i1,schemaPath:"#/properties/positions/items/type",keyword:"type",params:{type: "integer"},message:"must be integer"}];
return false;
}
if(errors === _errs13){
if((typeof data5 == "number") && (isFinite(data5))){
if(data5 > 64 || isNaN(data5)){
validate38.errors = [{instancePath:instancePath+"/positions/" + i1,schemaPath:"#/properties/positions/items/maximum",keyword:"maximum",params:{comparison: "<=", limit: 64},message:"must be <= 64"}];
return false;
}
else {
if(data5 < 1 || isNaN(data5)){
validate38.errors = [{instancePath:instancePath+"/positions/" + i1,schemaPath:"#/properties/positions/items/minimum",keyword:"minimum",params:{comparison: ">=", limit: 1},message:"must be >= 1"}];
return false;
}
}
}
}
var valid4 = _errs13 === errors;
if(!valid4){
break;
}
}
}
}
else {
validate38.errors = [{instancePath:instancePath+"/positions",schemaPath:"#/properties/positions/type",keyword:"type",params:{type: "array"},message:"must be array"}];
return false;
}
}
var valid0 = _errs11 === errors;
}
else {
var valid0 = true;
}
if(valid0){
if(data.clock !== undefined){
let data6 = data.clock;
const _errs15 = errors;
const _errs16 = errors;
if(errors === _errs16){
if(typeof data6 === "string"){
if(!pattern0.test(data6)){
validate38.errors = [{instancePath:instancePath+"/clock",schemaPath:"#/$defs/id/pattern",keyword:"pattern",params:{pattern: "^[A-Za-z0-9][A-Za-z0-9._-]{0,63}$"},message:"must match pattern \""+"^[A-Za-z0-9][A-Za-z0-9._-]{0,63}$"+"\""}];
return false;
}
}
else {
validate38.errors = [{instancePath:instancePath+"/clock",schemaPath:"#/$defs/id/type",keyword:"type",params:{type: "string"},message:"must be string"}];
return false;
}
}
var valid0 = _errs15 === errors;
}
else {
var valid0 = true;
}
}
}
}
}
}
}
}
else {
validate38.errors = [{instancePath,schemaPath:"#/type",keyword:"type",params:{type: "object"},message:"must be object"}];
return false;
}
}
validate38.errors = vErrors;
return errors === 0;
}


function validate13(data, {instancePath="", parentData, parentDataProperty, rootData=data}={}){
let vErrors = null;
let errors = 0;
if(errors === 0){
if(data && typeof data == "object" && !Array.isArray(data)){
let missing0;
if((((((((((data.id === undefined) && (missing0 = "id")) || ((data.name === undefined) && (missing0 = "name"))) || ((data.category === undefined) && (missing0 = "category"))) || ((data.banks === undefined) && (missing0 = "banks"))) || ((data.ports === undefined) && (missing0 = "ports"))) || ((data.rules === undefined) && (missing0 = "rules"))) || ((data.modes === undefined) && (missing0 = "modes"))) || ((data.chain === undefined) && (missing0 = "chain"))) || ((data.clock === undefined) && (missing0 = "clock"))){
validate13.errors = [{instancePath,schemaPath:"#/required",keyword:"required",params:{missingProperty: missing0},message:"must have required property '"+missing0+"'"}];
return false;
}
else {
const _errs1 = errors;
for(const key0 in data){
if(!(func2.call(schema20.properties, key0))){
validate13.errors = [{instancePath,schemaPath:"#/additionalProperties",keyword:"additionalProperties",params:{additionalProperty: key0},message:"must NOT have additional properties"}];
return false;
break;
}
}
if(_errs1 === errors){
if(data.id !== undefined){
let data0 = data.id;
const _errs2 = errors;
const _errs3 = errors;
if(errors === _errs3){
if(typeof data0 === "string"){
if(!pattern0.test(data0)){
validate13.errors = [{instancePath:instancePath+"/id",schemaPath:"#/$defs/id/pattern",keyword:"pattern",params:{pattern: "^[A-Za-z0-9][A-Za-z0-9._-]{0,63}$"},message:"must match pattern \""+"^[A-Za-z0-9][A-Za-z0-9._-]{0,63}$"+"\""}];
return false;
}
}
else {
validate13.errors = [{instancePath:instancePath+"/id",schemaPath:"#/$defs/id/type",keyword:"type",params:{type: "string"},message:"must be string"}];
return false;
}
}
var valid0 = _errs2 === errors;
}
else {
var valid0 = true;
}
if(valid0){
if(data.name !== undefined){
let data1 = data.name;
const _errs5 = errors;
const _errs6 = errors;
if(errors === _errs6){
if(typeof data1 === "string"){
if(!pattern1.test(data1)){
validate13.errors = [{instancePath:instancePath+"/name",schemaPath:"#/$defs/name/pattern",keyword:"pattern",params:{pattern: "^[\\s\\S]{1,200}$"},message:"must match pattern \""+"^[\\s\\S]{1,200}$"+"\""}];
return false;
}
}
else {
validate13.errors = [{instancePath:instancePath+"/name",schemaPath:"#/$defs/name/type",keyword:"type",params:{type: "string"},message:"must be string"}];
return false;
}
}
var valid0 = _errs5 === errors;
}
else {
var valid0 = true;
}
if(valid0){
if(data.category !== undefined){
let data2 = data.category;
const _errs8 = errors;
if(!(((((((((((data2 === "console") || (data2 === "stage box")) || (data2 === "breakout")) || (data2 === "split")) || (data2 === "interface")) || (data2 === "network")) || (data2 === "processor")) || (data2 === "radio")) || (data2 === "loudspeaker")) || (data2 === "personal mixer")) || (data2 === "recorder"))){
validate13.errors = [{instancePath:instancePath+"/category",schemaPath:"#/properties/category/enum",keyword:"enum",params:{allowedValues: schema20.properties.category.enum},message:"must be equal to one of the allowed values"}];
return false;
}
var valid0 = _errs8 === errors;
}
else {
var valid0 = true;
}
if(valid0){
if(data.banks !== undefined){
let data3 = data.banks;
const _errs9 = errors;
if(errors === _errs9){
if(Array.isArray(data3)){
if(data3.length > 64){
validate13.errors = [{instancePath:instancePath+"/banks",schemaPath:"#/properties/banks/maxItems",keyword:"maxItems",params:{limit: 64},message:"must NOT have more than 64 items"}];
return false;
}
else {
var valid3 = true;
const len0 = data3.length;
for(let i0=0; i0<len0; i0++){
const _errs11 = errors;
if(!(validate14(data3[i0], {instancePath:instancePath+"/banks/" + i0,parentData:data3,parentDataProperty:i0,rootData}))){
vErrors = vErrors === null ? validate14.errors : vErrors.concat(validate14.errors);
errors = vErrors.length;
}
var valid3 = _errs11 === errors;
if(!valid3){
break;
}
}
}
}
else {
validate13.errors = [{instancePath:instancePath+"/banks",schemaPath:"#/properties/banks/type",keyword:"type",params:{type: "array"},message:"must be array"}];
return false;
}
}
var valid0 = _errs9 === errors;
}
else {
var valid0 = true;
}
if(valid0){
if(data.ports !== undefined){
let data5 = data.ports;
const _errs12 = errors;
if(errors === _errs12){
if(Array.isArray(data5)){
if(data5.length > 128){
validate13.errors = [{instancePath:instancePath+"/ports",schemaPath:"#/properties/ports/maxItems",keyword:"maxItems",params:{limit: 128},message:"must NOT have more than 128 items"}];
return false;
}
else {
var valid4 = true;
const len1 = data5.length;
for(let i1=0; i1<len1; i1++){
const _errs14 = errors;
if(!(validate18(data5[i1], {instancePath:instancePath+"/ports/" + i1,parentData:data5,parentDataProperty:i1,rootData}))){
vErrors = vErrors === null ? validate18.errors : vErrors.concat(validate18.errors);
errors = vErrors.length;
}
var valid4 = _errs14 === errors;
if(!valid4){
break;
}
}
}
}
else {
validate13.errors = [{instancePath:instancePath+"/ports",schemaPath:"#/properties/ports/type",keyword:"type",params:{type: "array"},message:"must be array"}];
return false;
}
}
var valid0 = _errs12 === errors;
}
else {
var valid0 = true;
}
if(valid0){
if(data.mixer !== undefined){
const _errs15 = errors;
if(!(validate22(data.mixer, {instancePath:instancePath+"/mixer",parentData:data,parentDataProperty:"mixer",rootData}))){
vErrors = vErrors === null ? validate22.errors : vErrors.concat(validate22.errors);
errors = vErrors.length;
}
var valid0 = _errs15 === errors;
}
else {
var valid0 = true;
}
if(valid0){
if(data.rules !== undefined){
let data8 = data.rules;
const _errs16 = errors;
if(errors === _errs16){
if(Array.isArray(data8)){
if(data8.length > 1024){
validate13.errors = [{instancePath:instancePath+"/rules",schemaPath:"#/properties/rules/maxItems",keyword:"maxItems",params:{limit: 1024},message:"must NOT have more than 1024 items"}];
return false;
}
else {
var valid5 = true;
const len2 = data8.length;
for(let i2=0; i2<len2; i2++){
const _errs18 = errors;
if(!(validate27(data8[i2], {instancePath:instancePath+"/rules/" + i2,parentData:data8,parentDataProperty:i2,rootData}))){
vErrors = vErrors === null ? validate27.errors : vErrors.concat(validate27.errors);
errors = vErrors.length;
}
var valid5 = _errs18 === errors;
if(!valid5){
break;
}
}
}
}
else {
validate13.errors = [{instancePath:instancePath+"/rules",schemaPath:"#/properties/rules/type",keyword:"type",params:{type: "array"},message:"must be array"}];
return false;
}
}
var valid0 = _errs16 === errors;
}
else {
var valid0 = true;
}
if(valid0){
if(data.modes !== undefined){
let data10 = data.modes;
const _errs19 = errors;
if(errors === _errs19){
if(Array.isArray(data10)){
if(data10.length > 64){
validate13.errors = [{instancePath:instancePath+"/modes",schemaPath:"#/properties/modes/maxItems",keyword:"maxItems",params:{limit: 64},message:"must NOT have more than 64 items"}];
return false;
}
else {
if(data10.length < 1){
validate13.errors = [{instancePath:instancePath+"/modes",schemaPath:"#/properties/modes/minItems",keyword:"minItems",params:{limit: 1},message:"must NOT have fewer than 1 items"}];
return false;
}
else {
var valid6 = true;
const len3 = data10.length;
for(let i3=0; i3<len3; i3++){
const _errs21 = errors;
if(!(validate38(data10[i3], {instancePath:instancePath+"/modes/" + i3,parentData:data10,parentDataProperty:i3,rootData}))){
vErrors = vErrors === null ? validate38.errors : vErrors.concat(validate38.errors);
errors = vErrors.length;
}
var valid6 = _errs21 === errors;
if(!valid6){
break;
}
}
}
}
}
else {
validate13.errors = [{instancePath:instancePath+"/modes",schemaPath:"#/properties/modes/type",keyword:"type",params:{type: "array"},message:"must be array"}];
return false;
}
}
var valid0 = _errs19 === errors;
}
else {
var valid0 = true;
}
if(valid0){
if(data.chain !== undefined){
let data12 = data.chain;
const _errs22 = errors;
if(!(((typeof data12 == "number") && (!(data12 % 1) && !isNaN(data12))) && (isFinite(data12)))){
validate13.errors = [{instancePath:instancePath+"/chain",schemaPath:"#/properties/chain/type",keyword:"type",params:{type: "integer"},message:"must be integer"}];
return false;
}
if(errors === _errs22){
if((typeof data12 == "number") && (isFinite(data12))){
if(data12 > 64 || isNaN(data12)){
validate13.errors = [{instancePath:instancePath+"/chain",schemaPath:"#/properties/chain/maximum",keyword:"maximum",params:{comparison: "<=", limit: 64},message:"must be <= 64"}];
return false;
}
else {
if(data12 < 1 || isNaN(data12)){
validate13.errors = [{instancePath:instancePath+"/chain",schemaPath:"#/properties/chain/minimum",keyword:"minimum",params:{comparison: ">=", limit: 1},message:"must be >= 1"}];
return false;
}
}
}
}
var valid0 = _errs22 === errors;
}
else {
var valid0 = true;
}
if(valid0){
if(data.clock !== undefined){
let data13 = data.clock;
const _errs24 = errors;
const _errs25 = errors;
if(errors === _errs25){
if(typeof data13 === "string"){
if(!pattern0.test(data13)){
validate13.errors = [{instancePath:instancePath+"/clock",schemaPath:"#/$defs/id/pattern",keyword:"pattern",params:{pattern: "^[A-Za-z0-9][A-Za-z0-9._-]{0,63}$"},message:"must match pattern \""+"^[A-Za-z0-9][A-Za-z0-9._-]{0,63}$"+"\""}];
return false;
}
}
else {
validate13.errors = [{instancePath:instancePath+"/clock",schemaPath:"#/$defs/id/type",keyword:"type",params:{type: "string"},message:"must be string"}];
return false;
}
}
var valid0 = _errs24 === errors;
}
else {
var valid0 = true;
}
}
}
}
}
}
}
}
}
}
}
}
}
else {
validate13.errors = [{instancePath,schemaPath:"#/type",keyword:"type",params:{type: "object"},message:"must be object"}];
return false;
}
}
validate13.errors = vErrors;
return errors === 0;
}

const schema53 = {"type":"object","properties":{"id":{"$ref":"#/$defs/id"},"name":{"$ref":"#/$defs/name"},"type":{"$ref":"#/$defs/id"},"place":{"$ref":"#/$defs/id"},"at":{"$ref":"#/$defs/point"},"mode":{"$ref":"#/$defs/id"},"position":{"type":"integer","minimum":1,"maximum":64},"powered":{"type":"boolean"},"sampleRate":{"enum":[44100,48000,88200,96000,176400,192000]},"clock":{"$ref":"#/$defs/id"},"routing":{"type":"array","items":{"$ref":"#/$defs/assignment"},"maxItems":4096},"notes":{"$ref":"#/$defs/note"}},"required":["id","name","type","place","at","mode","position","powered","routing"],"additionalProperties":false};
const schema61 = {"type":"object","properties":{"to":{"$ref":"#/$defs/start"},"from":{"$ref":"#/$defs/start"},"count":{"type":"integer","minimum":1,"maximum":4096}},"required":["to","from","count"],"additionalProperties":false};
const schema62 = {"type":"object","properties":{"group":{"$ref":"#/$defs/id"},"first":{"type":"integer","minimum":1,"maximum":4096}},"required":["group","first"],"additionalProperties":false};

function validate44(data, {instancePath="", parentData, parentDataProperty, rootData=data}={}){
let vErrors = null;
let errors = 0;
if(errors === 0){
if(data && typeof data == "object" && !Array.isArray(data)){
let missing0;
if(((data.group === undefined) && (missing0 = "group")) || ((data.first === undefined) && (missing0 = "first"))){
validate44.errors = [{instancePath,schemaPath:"#/required",keyword:"required",params:{missingProperty: missing0},message:"must have required property '"+missing0+"'"}];
return false;
}
else {
const _errs1 = errors;
for(const key0 in data){
if(!((key0 === "group") || (key0 === "first"))){
validate44.errors = [{instancePath,schemaPath:"#/additionalProperties",keyword:"additionalProperties",params:{additionalProperty: key0},message:"must NOT have additional properties"}];
return false;
break;
}
}
if(_errs1 === errors){
if(data.group !== undefined){
let data0 = data.group;
const _errs2 = errors;
const _errs3 = errors;
if(errors === _errs3){
if(typeof data0 === "string"){
if(!pattern0.test(data0)){
validate44.errors = [{instancePath:instancePath+"/group",schemaPath:"#/$defs/id/pattern",keyword:"pattern",params:{pattern: "^[A-Za-z0-9][A-Za-z0-9._-]{0,63}$"},message:"must match pattern \""+"^[A-Za-z0-9][A-Za-z0-9._-]{0,63}$"+"\""}];
return false;
}
}
else {
validate44.errors = [{instancePath:instancePath+"/group",schemaPath:"#/$defs/id/type",keyword:"type",params:{type: "string"},message:"must be string"}];
return false;
}
}
var valid0 = _errs2 === errors;
}
else {
var valid0 = true;
}
if(valid0){
if(data.first !== undefined){
let data1 = data.first;
const _errs5 = errors;
if(!(((typeof data1 == "number") && (!(data1 % 1) && !isNaN(data1))) && (isFinite(data1)))){
validate44.errors = [{instancePath:instancePath+"/first",schemaPath:"#/properties/first/type",keyword:"type",params:{type: "integer"},message:"must be integer"}];
return false;
}
if(errors === _errs5){
if((typeof data1 == "number") && (isFinite(data1))){
if(data1 > 4096 || isNaN(data1)){
validate44.errors = [{instancePath:instancePath+"/first",schemaPath:"#/properties/first/maximum",keyword:"maximum",params:{comparison: "<=", limit: 4096},message:"must be <= 4096"}];
return false;
}
else {
if(data1 < 1 || isNaN(data1)){
validate44.errors = [{instancePath:instancePath+"/first",schemaPath:"#/properties/first/minimum",keyword:"minimum",params:{comparison: ">=", limit: 1},message:"must be >= 1"}];
return false;
}
}
}
}
var valid0 = _errs5 === errors;
}
else {
var valid0 = true;
}
}
}
}
}
else {
validate44.errors = [{instancePath,schemaPath:"#/type",keyword:"type",params:{type: "object"},message:"must be object"}];
return false;
}
}
validate44.errors = vErrors;
return errors === 0;
}


function validate43(data, {instancePath="", parentData, parentDataProperty, rootData=data}={}){
let vErrors = null;
let errors = 0;
if(errors === 0){
if(data && typeof data == "object" && !Array.isArray(data)){
let missing0;
if((((data.to === undefined) && (missing0 = "to")) || ((data.from === undefined) && (missing0 = "from"))) || ((data.count === undefined) && (missing0 = "count"))){
validate43.errors = [{instancePath,schemaPath:"#/required",keyword:"required",params:{missingProperty: missing0},message:"must have required property '"+missing0+"'"}];
return false;
}
else {
const _errs1 = errors;
for(const key0 in data){
if(!(((key0 === "to") || (key0 === "from")) || (key0 === "count"))){
validate43.errors = [{instancePath,schemaPath:"#/additionalProperties",keyword:"additionalProperties",params:{additionalProperty: key0},message:"must NOT have additional properties"}];
return false;
break;
}
}
if(_errs1 === errors){
if(data.to !== undefined){
const _errs2 = errors;
if(!(validate44(data.to, {instancePath:instancePath+"/to",parentData:data,parentDataProperty:"to",rootData}))){
vErrors = vErrors === null ? validate44.errors : vErrors.concat(validate44.errors);
errors = vErrors.length;
}
var valid0 = _errs2 === errors;
}
else {
var valid0 = true;
}
if(valid0){
if(data.from !== undefined){
const _errs3 = errors;
if(!(validate44(data.from, {instancePath:instancePath+"/from",parentData:data,parentDataProperty:"from",rootData}))){
vErrors = vErrors === null ? validate44.errors : vErrors.concat(validate44.errors);
errors = vErrors.length;
}
var valid0 = _errs3 === errors;
}
else {
var valid0 = true;
}
if(valid0){
if(data.count !== undefined){
let data2 = data.count;
const _errs4 = errors;
if(!(((typeof data2 == "number") && (!(data2 % 1) && !isNaN(data2))) && (isFinite(data2)))){
validate43.errors = [{instancePath:instancePath+"/count",schemaPath:"#/properties/count/type",keyword:"type",params:{type: "integer"},message:"must be integer"}];
return false;
}
if(errors === _errs4){
if((typeof data2 == "number") && (isFinite(data2))){
if(data2 > 4096 || isNaN(data2)){
validate43.errors = [{instancePath:instancePath+"/count",schemaPath:"#/properties/count/maximum",keyword:"maximum",params:{comparison: "<=", limit: 4096},message:"must be <= 4096"}];
return false;
}
else {
if(data2 < 1 || isNaN(data2)){
validate43.errors = [{instancePath:instancePath+"/count",schemaPath:"#/properties/count/minimum",keyword:"minimum",params:{comparison: ">=", limit: 1},message:"must be >= 1"}];
return false;
}
}
}
}
var valid0 = _errs4 === errors;
}
else {
var valid0 = true;
}
}
}
}
}
}
else {
validate43.errors = [{instancePath,schemaPath:"#/type",keyword:"type",params:{type: "object"},message:"must be object"}];
return false;
}
}
validate43.errors = vErrors;
return errors === 0;
}


function validate42(data, {instancePath="", parentData, parentDataProperty, rootData=data}={}){
let vErrors = null;
let errors = 0;
if(errors === 0){
if(data && typeof data == "object" && !Array.isArray(data)){
let missing0;
if((((((((((data.id === undefined) && (missing0 = "id")) || ((data.name === undefined) && (missing0 = "name"))) || ((data.type === undefined) && (missing0 = "type"))) || ((data.place === undefined) && (missing0 = "place"))) || ((data.at === undefined) && (missing0 = "at"))) || ((data.mode === undefined) && (missing0 = "mode"))) || ((data.position === undefined) && (missing0 = "position"))) || ((data.powered === undefined) && (missing0 = "powered"))) || ((data.routing === undefined) && (missing0 = "routing"))){
validate42.errors = [{instancePath,schemaPath:"#/required",keyword:"required",params:{missingProperty: missing0},message:"must have required property '"+missing0+"'"}];
return false;
}
else {
const _errs1 = errors;
for(const key0 in data){
if(!(func2.call(schema53.properties, key0))){
validate42.errors = [{instancePath,schemaPath:"#/additionalProperties",keyword:"additionalProperties",params:{additionalProperty: key0},message:"must NOT have additional properties"}];
return false;
break;
}
}
if(_errs1 === errors){
if(data.id !== undefined){
let data0 = data.id;
const _errs2 = errors;
const _errs3 = errors;
if(errors === _errs3){
if(typeof data0 === "string"){
if(!pattern0.test(data0)){
validate42.errors = [{instancePath:instancePath+"/id",schemaPath:"#/$defs/id/pattern",keyword:"pattern",params:{pattern: "^[A-Za-z0-9][A-Za-z0-9._-]{0,63}$"},message:"must match pattern \""+"^[A-Za-z0-9][A-Za-z0-9._-]{0,63}$"+"\""}];
return false;
}
}
else {
validate42.errors = [{instancePath:instancePath+"/id",schemaPath:"#/$defs/id/type",keyword:"type",params:{type: "string"},message:"must be string"}];
return false;
}
}
var valid0 = _errs2 === errors;
}
else {
var valid0 = true;
}
if(valid0){
if(data.name !== undefined){
let data1 = data.name;
const _errs5 = errors;
const _errs6 = errors;
if(errors === _errs6){
if(typeof data1 === "string"){
if(!pattern1.test(data1)){
validate42.errors = [{instancePath:instancePath+"/name",schemaPath:"#/$defs/name/pattern",keyword:"pattern",params:{pattern: "^[\\s\\S]{1,200}$"},message:"must match pattern \""+"^[\\s\\S]{1,200}$"+"\""}];
return false;
}
}
else {
validate42.errors = [{instancePath:instancePath+"/name",schemaPath:"#/$defs/name/type",keyword:"type",params:{type: "string"},message:"must be string"}];
return false;
}
}
var valid0 = _errs5 === errors;
}
else {
var valid0 = true;
}
if(valid0){
if(data.type !== undefined){
let data2 = data.type;
const _errs8 = errors;
const _errs9 = errors;
if(errors === _errs9){
if(typeof data2 === "string"){
if(!pattern0.test(data2)){
validate42.errors = [{instancePath:instancePath+"/type",schemaPath:"#/$defs/id/pattern",keyword:"pattern",params:{pattern: "^[A-Za-z0-9][A-Za-z0-9._-]{0,63}$"},message:"must match pattern \""+"^[A-Za-z0-9][A-Za-z0-9._-]{0,63}$"+"\""}];
return false;
}
}
else {
validate42.errors = [{instancePath:instancePath+"/type",schemaPath:"#/$defs/id/type",keyword:"type",params:{type: "string"},message:"must be string"}];
return false;
}
}
var valid0 = _errs8 === errors;
}
else {
var valid0 = true;
}
if(valid0){
if(data.place !== undefined){
let data3 = data.place;
const _errs11 = errors;
const _errs12 = errors;
if(errors === _errs12){
if(typeof data3 === "string"){
if(!pattern0.test(data3)){
validate42.errors = [{instancePath:instancePath+"/place",schemaPath:"#/$defs/id/pattern",keyword:"pattern",params:{pattern: "^[A-Za-z0-9][A-Za-z0-9._-]{0,63}$"},message:"must match pattern \""+"^[A-Za-z0-9][A-Za-z0-9._-]{0,63}$"+"\""}];
return false;
}
}
else {
validate42.errors = [{instancePath:instancePath+"/place",schemaPath:"#/$defs/id/type",keyword:"type",params:{type: "string"},message:"must be string"}];
return false;
}
}
var valid0 = _errs11 === errors;
}
else {
var valid0 = true;
}
if(valid0){
if(data.at !== undefined){
let data4 = data.at;
const _errs14 = errors;
const _errs15 = errors;
if(errors === _errs15){
if(data4 && typeof data4 == "object" && !Array.isArray(data4)){
let missing1;
if(((data4.x === undefined) && (missing1 = "x")) || ((data4.y === undefined) && (missing1 = "y"))){
validate42.errors = [{instancePath:instancePath+"/at",schemaPath:"#/$defs/point/required",keyword:"required",params:{missingProperty: missing1},message:"must have required property '"+missing1+"'"}];
return false;
}
else {
const _errs17 = errors;
for(const key1 in data4){
if(!((key1 === "x") || (key1 === "y"))){
validate42.errors = [{instancePath:instancePath+"/at",schemaPath:"#/$defs/point/additionalProperties",keyword:"additionalProperties",params:{additionalProperty: key1},message:"must NOT have additional properties"}];
return false;
break;
}
}
if(_errs17 === errors){
if(data4.x !== undefined){
let data5 = data4.x;
const _errs18 = errors;
if(errors === _errs18){
if((typeof data5 == "number") && (isFinite(data5))){
if(data5 > 1000000 || isNaN(data5)){
validate42.errors = [{instancePath:instancePath+"/at/x",schemaPath:"#/$defs/point/properties/x/maximum",keyword:"maximum",params:{comparison: "<=", limit: 1000000},message:"must be <= 1000000"}];
return false;
}
else {
if(data5 < -1000000 || isNaN(data5)){
validate42.errors = [{instancePath:instancePath+"/at/x",schemaPath:"#/$defs/point/properties/x/minimum",keyword:"minimum",params:{comparison: ">=", limit: -1000000},message:"must be >= -1000000"}];
return false;
}
}
}
else {
validate42.errors = [{instancePath:instancePath+"/at/x",schemaPath:"#/$defs/point/properties/x/type",keyword:"type",params:{type: "number"},message:"must be number"}];
return false;
}
}
var valid6 = _errs18 === errors;
}
else {
var valid6 = true;
}
if(valid6){
if(data4.y !== undefined){
let data6 = data4.y;
const _errs20 = errors;
if(errors === _errs20){
if((typeof data6 == "number") && (isFinite(data6))){
if(data6 > 1000000 || isNaN(data6)){
validate42.errors = [{instancePath:instancePath+"/at/y",schemaPath:"#/$defs/point/properties/y/maximum",keyword:"maximum",params:{comparison: "<=", limit: 1000000},message:"must be <= 1000000"}];
return false;
}
else {
if(data6 < -1000000 || isNaN(data6)){
validate42.errors = [{instancePath:instancePath+"/at/y",schemaPath:"#/$defs/point/properties/y/minimum",keyword:"minimum",params:{comparison: ">=", limit: -1000000},message:"must be >= -1000000"}];
return false;
}
}
}
else {
validate42.errors = [{instancePath:instancePath+"/at/y",schemaPath:"#/$defs/point/properties/y/type",keyword:"type",params:{type: "number"},message:"must be number"}];
return false;
}
}
var valid6 = _errs20 === errors;
}
else {
var valid6 = true;
}
}
}
}
}
else {
validate42.errors = [{instancePath:instancePath+"/at",schemaPath:"#/$defs/point/type",keyword:"type",params:{type: "object"},message:"must be object"}];
return false;
}
}
var valid0 = _errs14 === errors;
}
else {
var valid0 = true;
}
if(valid0){
if(data.mode !== undefined){
let data7 = data.mode;
const _errs22 = errors;
const _errs23 = errors;
if(errors === _errs23){
if(typeof data7 === "string"){
if(!pattern0.test(data7)){
validate42.errors = [{instancePath:instancePath+"/mode",schemaPath:"#/$defs/id/pattern",keyword:"pattern",params:{pattern: "^[A-Za-z0-9][A-Za-z0-9._-]{0,63}$"},message:"must match pattern \""+"^[A-Za-z0-9][A-Za-z0-9._-]{0,63}$"+"\""}];
return false;
}
}
else {
validate42.errors = [{instancePath:instancePath+"/mode",schemaPath:"#/$defs/id/type",keyword:"type",params:{type: "string"},message:"must be string"}];
return false;
}
}
var valid0 = _errs22 === errors;
}
else {
var valid0 = true;
}
if(valid0){
if(data.position !== undefined){
let data8 = data.position;
const _errs25 = errors;
if(!(((typeof data8 == "number") && (!(data8 % 1) && !isNaN(data8))) && (isFinite(data8)))){
validate42.errors = [{instancePath:instancePath+"/position",schemaPath:"#/properties/position/type",keyword:"type",params:{type: "integer"},message:"must be integer"}];
return false;
}
if(errors === _errs25){
if((typeof data8 == "number") && (isFinite(data8))){
if(data8 > 64 || isNaN(data8)){
validate42.errors = [{instancePath:instancePath+"/position",schemaPath:"#/properties/position/maximum",keyword:"maximum",params:{comparison: "<=", limit: 64},message:"must be <= 64"}];
return false;
}
else {
if(data8 < 1 || isNaN(data8)){
validate42.errors = [{instancePath:instancePath+"/position",schemaPath:"#/properties/position/minimum",keyword:"minimum",params:{comparison: ">=", limit: 1},message:"must be >= 1"}];
return false;
}
}
}
}
var valid0 = _errs25 === errors;
}
else {
var valid0 = true;
}
if(valid0){
if(data.powered !== undefined){
const _errs27 = errors;
if(typeof data.powered !== "boolean"){
validate42.errors = [{instancePath:instancePath+"/powered",schemaPath:"#/properties/powered/type",keyword:"type",params:{type: "boolean"},message:"must be boolean"}];
return false;
}
var valid0 = _errs27 === errors;
}
else {
var valid0 = true;
}
if(valid0){
if(data.sampleRate !== undefined){
let data10 = data.sampleRate;
const _errs29 = errors;
if(!((((((data10 === 44100) || (data10 === 48000)) || (data10 === 88200)) || (data10 === 96000)) || (data10 === 176400)) || (data10 === 192000))){
validate42.errors = [{instancePath:instancePath+"/sampleRate",schemaPath:"#/properties/sampleRate/enum",keyword:"enum",params:{allowedValues: schema53.properties.sampleRate.enum},message:"must be equal to one of the allowed values"}];
return false;
}
var valid0 = _errs29 === errors;
}
else {
var valid0 = true;
}
if(valid0){
if(data.clock !== undefined){
let data11 = data.clock;
const _errs30 = errors;
const _errs31 = errors;
if(errors === _errs31){
if(typeof data11 === "string"){
if(!pattern0.test(data11)){
validate42.errors = [{instancePath:instancePath+"/clock",schemaPath:"#/$defs/id/pattern",keyword:"pattern",params:{pattern: "^[A-Za-z0-9][A-Za-z0-9._-]{0,63}$"},message:"must match pattern \""+"^[A-Za-z0-9][A-Za-z0-9._-]{0,63}$"+"\""}];
return false;
}
}
else {
validate42.errors = [{instancePath:instancePath+"/clock",schemaPath:"#/$defs/id/type",keyword:"type",params:{type: "string"},message:"must be string"}];
return false;
}
}
var valid0 = _errs30 === errors;
}
else {
var valid0 = true;
}
if(valid0){
if(data.routing !== undefined){
let data12 = data.routing;
const _errs33 = errors;
if(errors === _errs33){
if(Array.isArray(data12)){
if(data12.length > 4096){
validate42.errors = [{instancePath:instancePath+"/routing",schemaPath:"#/properties/routing/maxItems",keyword:"maxItems",params:{limit: 4096},message:"must NOT have more than 4096 items"}];
return false;
}
else {
var valid9 = true;
const len0 = data12.length;
for(let i0=0; i0<len0; i0++){
const _errs35 = errors;
if(!(validate43(data12[i0], {instancePath:instancePath+"/routing/" + i0,parentData:data12,parentDataProperty:i0,rootData}))){
vErrors = vErrors === null ? validate43.errors : vErrors.concat(validate43.errors);
errors = vErrors.length;
}
var valid9 = _errs35 === errors;
if(!valid9){
break;
}
}
}
}
else {
validate42.errors = [{instancePath:instancePath+"/routing",schemaPath:"#/properties/routing/type",keyword:"type",params:{type: "array"},message:"must be array"}];
return false;
}
}
var valid0 = _errs33 === errors;
}
else {
var valid0 = true;
}
if(valid0){
if(data.notes !== undefined){
let data14 = data.notes;
const _errs36 = errors;
const _errs37 = errors;
if(errors === _errs37){
if(typeof data14 === "string"){
if(!pattern3.test(data14)){
validate42.errors = [{instancePath:instancePath+"/notes",schemaPath:"#/$defs/note/pattern",keyword:"pattern",params:{pattern: "^[\\s\\S]{0,20000}$"},message:"must match pattern \""+"^[\\s\\S]{0,20000}$"+"\""}];
return false;
}
}
else {
validate42.errors = [{instancePath:instancePath+"/notes",schemaPath:"#/$defs/note/type",keyword:"type",params:{type: "string"},message:"must be string"}];
return false;
}
}
var valid0 = _errs36 === errors;
}
else {
var valid0 = true;
}
}
}
}
}
}
}
}
}
}
}
}
}
}
}
else {
validate42.errors = [{instancePath,schemaPath:"#/type",keyword:"type",params:{type: "object"},message:"must be object"}];
return false;
}
}
validate42.errors = vErrors;
return errors === 0;
}

const schema65 = {"type":"object","properties":{"id":{"$ref":"#/$defs/id"},"kind":{"$ref":"#/$defs/cableKind"},"length":{"type":"number","minimum":0,"maximum":100000},"tag":{"type":"string","pattern":"^[\\s\\S]{0,200}$"},"ways":{"type":"integer","minimum":1,"maximum":1024},"ends":{"type":"array","items":{"$ref":"#/$defs/cableEnd"},"minItems":2,"maxItems":2}},"required":["id","kind","tag","ways","ends"],"additionalProperties":false};
const schema68 = {"type":"object","properties":{"device":{"$ref":"#/$defs/id"},"group":{"$ref":"#/$defs/id"},"first":{"type":"integer","minimum":1,"maximum":4096}},"required":["device","group","first"],"additionalProperties":false};

function validate50(data, {instancePath="", parentData, parentDataProperty, rootData=data}={}){
let vErrors = null;
let errors = 0;
if(errors === 0){
if(data && typeof data == "object" && !Array.isArray(data)){
let missing0;
if((((data.device === undefined) && (missing0 = "device")) || ((data.group === undefined) && (missing0 = "group"))) || ((data.first === undefined) && (missing0 = "first"))){
validate50.errors = [{instancePath,schemaPath:"#/required",keyword:"required",params:{missingProperty: missing0},message:"must have required property '"+missing0+"'"}];
return false;
}
else {
const _errs1 = errors;
for(const key0 in data){
if(!(((key0 === "device") || (key0 === "group")) || (key0 === "first"))){
validate50.errors = [{instancePath,schemaPath:"#/additionalProperties",keyword:"additionalProperties",params:{additionalProperty: key0},message:"must NOT have additional properties"}];
return false;
break;
}
}
if(_errs1 === errors){
if(data.device !== undefined){
let data0 = data.device;
const _errs2 = errors;
const _errs3 = errors;
if(errors === _errs3){
if(typeof data0 === "string"){
if(!pattern0.test(data0)){
validate50.errors = [{instancePath:instancePath+"/device",schemaPath:"#/$defs/id/pattern",keyword:"pattern",params:{pattern: "^[A-Za-z0-9][A-Za-z0-9._-]{0,63}$"},message:"must match pattern \""+"^[A-Za-z0-9][A-Za-z0-9._-]{0,63}$"+"\""}];
return false;
}
}
else {
validate50.errors = [{instancePath:instancePath+"/device",schemaPath:"#/$defs/id/type",keyword:"type",params:{type: "string"},message:"must be string"}];
return false;
}
}
var valid0 = _errs2 === errors;
}
else {
var valid0 = true;
}
if(valid0){
if(data.group !== undefined){
let data1 = data.group;
const _errs5 = errors;
const _errs6 = errors;
if(errors === _errs6){
if(typeof data1 === "string"){
if(!pattern0.test(data1)){
validate50.errors = [{instancePath:instancePath+"/group",schemaPath:"#/$defs/id/pattern",keyword:"pattern",params:{pattern: "^[A-Za-z0-9][A-Za-z0-9._-]{0,63}$"},message:"must match pattern \""+"^[A-Za-z0-9][A-Za-z0-9._-]{0,63}$"+"\""}];
return false;
}
}
else {
validate50.errors = [{instancePath:instancePath+"/group",schemaPath:"#/$defs/id/type",keyword:"type",params:{type: "string"},message:"must be string"}];
return false;
}
}
var valid0 = _errs5 === errors;
}
else {
var valid0 = true;
}
if(valid0){
if(data.first !== undefined){
let data2 = data.first;
const _errs8 = errors;
if(!(((typeof data2 == "number") && (!(data2 % 1) && !isNaN(data2))) && (isFinite(data2)))){
validate50.errors = [{instancePath:instancePath+"/first",schemaPath:"#/properties/first/type",keyword:"type",params:{type: "integer"},message:"must be integer"}];
return false;
}
if(errors === _errs8){
if((typeof data2 == "number") && (isFinite(data2))){
if(data2 > 4096 || isNaN(data2)){
validate50.errors = [{instancePath:instancePath+"/first",schemaPath:"#/properties/first/maximum",keyword:"maximum",params:{comparison: "<=", limit: 4096},message:"must be <= 4096"}];
return false;
}
else {
if(data2 < 1 || isNaN(data2)){
validate50.errors = [{instancePath:instancePath+"/first",schemaPath:"#/properties/first/minimum",keyword:"minimum",params:{comparison: ">=", limit: 1},message:"must be >= 1"}];
return false;
}
}
}
}
var valid0 = _errs8 === errors;
}
else {
var valid0 = true;
}
}
}
}
}
}
else {
validate50.errors = [{instancePath,schemaPath:"#/type",keyword:"type",params:{type: "object"},message:"must be object"}];
return false;
}
}
validate50.errors = vErrors;
return errors === 0;
}


function validate49(data, {instancePath="", parentData, parentDataProperty, rootData=data}={}){
let vErrors = null;
let errors = 0;
if(errors === 0){
if(data && typeof data == "object" && !Array.isArray(data)){
let missing0;
if((((((data.id === undefined) && (missing0 = "id")) || ((data.kind === undefined) && (missing0 = "kind"))) || ((data.tag === undefined) && (missing0 = "tag"))) || ((data.ways === undefined) && (missing0 = "ways"))) || ((data.ends === undefined) && (missing0 = "ends"))){
validate49.errors = [{instancePath,schemaPath:"#/required",keyword:"required",params:{missingProperty: missing0},message:"must have required property '"+missing0+"'"}];
return false;
}
else {
const _errs1 = errors;
for(const key0 in data){
if(!((((((key0 === "id") || (key0 === "kind")) || (key0 === "length")) || (key0 === "tag")) || (key0 === "ways")) || (key0 === "ends"))){
validate49.errors = [{instancePath,schemaPath:"#/additionalProperties",keyword:"additionalProperties",params:{additionalProperty: key0},message:"must NOT have additional properties"}];
return false;
break;
}
}
if(_errs1 === errors){
if(data.id !== undefined){
let data0 = data.id;
const _errs2 = errors;
const _errs3 = errors;
if(errors === _errs3){
if(typeof data0 === "string"){
if(!pattern0.test(data0)){
validate49.errors = [{instancePath:instancePath+"/id",schemaPath:"#/$defs/id/pattern",keyword:"pattern",params:{pattern: "^[A-Za-z0-9][A-Za-z0-9._-]{0,63}$"},message:"must match pattern \""+"^[A-Za-z0-9][A-Za-z0-9._-]{0,63}$"+"\""}];
return false;
}
}
else {
validate49.errors = [{instancePath:instancePath+"/id",schemaPath:"#/$defs/id/type",keyword:"type",params:{type: "string"},message:"must be string"}];
return false;
}
}
var valid0 = _errs2 === errors;
}
else {
var valid0 = true;
}
if(valid0){
if(data.kind !== undefined){
let data1 = data.kind;
const _errs5 = errors;
if(!(((((((((data1 === "cat5e") || (data1 === "cat5e-shielded")) || (data1 === "coax-75")) || (data1 === "fibre")) || (data1 === "digital-110")) || (data1 === "microphone")) || (data1 === "multicore")) || (data1 === "loudspeaker")) || (data1 === "line"))){
validate49.errors = [{instancePath:instancePath+"/kind",schemaPath:"#/$defs/cableKind/enum",keyword:"enum",params:{allowedValues: schema34.enum},message:"must be equal to one of the allowed values"}];
return false;
}
var valid0 = _errs5 === errors;
}
else {
var valid0 = true;
}
if(valid0){
if(data.length !== undefined){
let data2 = data.length;
const _errs7 = errors;
if(errors === _errs7){
if((typeof data2 == "number") && (isFinite(data2))){
if(data2 > 100000 || isNaN(data2)){
validate49.errors = [{instancePath:instancePath+"/length",schemaPath:"#/properties/length/maximum",keyword:"maximum",params:{comparison: "<=", limit: 100000},message:"must be <= 100000"}];
return false;
}
else {
if(data2 < 0 || isNaN(data2)){
validate49.errors = [{instancePath:instancePath+"/length",schemaPath:"#/properties/length/minimum",keyword:"minimum",params:{comparison: ">=", limit: 0},message:"must be >= 0"}];
return false;
}
}
}
else {
validate49.errors = [{instancePath:instancePath+"/length",schemaPath:"#/properties/length/type",keyword:"type",params:{type: "number"},message:"must be number"}];
return false;
}
}
var valid0 = _errs7 === errors;
}
else {
var valid0 = true;
}
if(valid0){
if(data.tag !== undefined){
let data3 = data.tag;
const _errs9 = errors;
if(errors === _errs9){
if(typeof data3 === "string"){
if(!pattern2.test(data3)){
validate49.errors = [{instancePath:instancePath+"/tag",schemaPath:"#/properties/tag/pattern",keyword:"pattern",params:{pattern: "^[\\s\\S]{0,200}$"},message:"must match pattern \""+"^[\\s\\S]{0,200}$"+"\""}];
return false;
}
}
else {
validate49.errors = [{instancePath:instancePath+"/tag",schemaPath:"#/properties/tag/type",keyword:"type",params:{type: "string"},message:"must be string"}];
return false;
}
}
var valid0 = _errs9 === errors;
}
else {
var valid0 = true;
}
if(valid0){
if(data.ways !== undefined){
let data4 = data.ways;
const _errs11 = errors;
if(!(((typeof data4 == "number") && (!(data4 % 1) && !isNaN(data4))) && (isFinite(data4)))){
validate49.errors = [{instancePath:instancePath+"/ways",schemaPath:"#/properties/ways/type",keyword:"type",params:{type: "integer"},message:"must be integer"}];
return false;
}
if(errors === _errs11){
if((typeof data4 == "number") && (isFinite(data4))){
if(data4 > 1024 || isNaN(data4)){
validate49.errors = [{instancePath:instancePath+"/ways",schemaPath:"#/properties/ways/maximum",keyword:"maximum",params:{comparison: "<=", limit: 1024},message:"must be <= 1024"}];
return false;
}
else {
if(data4 < 1 || isNaN(data4)){
validate49.errors = [{instancePath:instancePath+"/ways",schemaPath:"#/properties/ways/minimum",keyword:"minimum",params:{comparison: ">=", limit: 1},message:"must be >= 1"}];
return false;
}
}
}
}
var valid0 = _errs11 === errors;
}
else {
var valid0 = true;
}
if(valid0){
if(data.ends !== undefined){
let data5 = data.ends;
const _errs13 = errors;
if(errors === _errs13){
if(Array.isArray(data5)){
if(data5.length > 2){
validate49.errors = [{instancePath:instancePath+"/ends",schemaPath:"#/properties/ends/maxItems",keyword:"maxItems",params:{limit: 2},message:"must NOT have more than 2 items"}];
return false;
}
else {
if(data5.length < 2){
validate49.errors = [{instancePath:instancePath+"/ends",schemaPath:"#/properties/ends/minItems",keyword:"minItems",params:{limit: 2},message:"must NOT have fewer than 2 items"}];
return false;
}
else {
var valid3 = true;
const len0 = data5.length;
for(let i0=0; i0<len0; i0++){
const _errs15 = errors;
if(!(validate50(data5[i0], {instancePath:instancePath+"/ends/" + i0,parentData:data5,parentDataProperty:i0,rootData}))){
vErrors = vErrors === null ? validate50.errors : vErrors.concat(validate50.errors);
errors = vErrors.length;
}
var valid3 = _errs15 === errors;
if(!valid3){
break;
}
}
}
}
}
else {
validate49.errors = [{instancePath:instancePath+"/ends",schemaPath:"#/properties/ends/type",keyword:"type",params:{type: "array"},message:"must be array"}];
return false;
}
}
var valid0 = _errs13 === errors;
}
else {
var valid0 = true;
}
}
}
}
}
}
}
}
}
else {
validate49.errors = [{instancePath,schemaPath:"#/type",keyword:"type",params:{type: "object"},message:"must be object"}];
return false;
}
}
validate49.errors = vErrors;
return errors === 0;
}

const schema71 = {"type":"object","properties":{"id":{"$ref":"#/$defs/id"},"name":{"$ref":"#/$defs/name"},"kind":{"enum":["microphone","DI","line","playback","talkback"]},"at":{"$ref":"#/$defs/terminal"},"phantom":{"type":"boolean"},"preampOwner":{"$ref":"#/$defs/id"}},"required":["id","name","kind","at","phantom"],"additionalProperties":false};
const schema74 = {"description":"One jack, or one bus of a mix engine. Numbers start at 1.","type":"object","properties":{"device":{"$ref":"#/$defs/id"},"group":{"$ref":"#/$defs/id"},"number":{"type":"integer","minimum":1,"maximum":4096}},"required":["device","group","number"],"additionalProperties":false};

function validate54(data, {instancePath="", parentData, parentDataProperty, rootData=data}={}){
let vErrors = null;
let errors = 0;
if(errors === 0){
if(data && typeof data == "object" && !Array.isArray(data)){
let missing0;
if((((data.device === undefined) && (missing0 = "device")) || ((data.group === undefined) && (missing0 = "group"))) || ((data.number === undefined) && (missing0 = "number"))){
validate54.errors = [{instancePath,schemaPath:"#/required",keyword:"required",params:{missingProperty: missing0},message:"must have required property '"+missing0+"'"}];
return false;
}
else {
const _errs1 = errors;
for(const key0 in data){
if(!(((key0 === "device") || (key0 === "group")) || (key0 === "number"))){
validate54.errors = [{instancePath,schemaPath:"#/additionalProperties",keyword:"additionalProperties",params:{additionalProperty: key0},message:"must NOT have additional properties"}];
return false;
break;
}
}
if(_errs1 === errors){
if(data.device !== undefined){
let data0 = data.device;
const _errs2 = errors;
const _errs3 = errors;
if(errors === _errs3){
if(typeof data0 === "string"){
if(!pattern0.test(data0)){
validate54.errors = [{instancePath:instancePath+"/device",schemaPath:"#/$defs/id/pattern",keyword:"pattern",params:{pattern: "^[A-Za-z0-9][A-Za-z0-9._-]{0,63}$"},message:"must match pattern \""+"^[A-Za-z0-9][A-Za-z0-9._-]{0,63}$"+"\""}];
return false;
}
}
else {
validate54.errors = [{instancePath:instancePath+"/device",schemaPath:"#/$defs/id/type",keyword:"type",params:{type: "string"},message:"must be string"}];
return false;
}
}
var valid0 = _errs2 === errors;
}
else {
var valid0 = true;
}
if(valid0){
if(data.group !== undefined){
let data1 = data.group;
const _errs5 = errors;
const _errs6 = errors;
if(errors === _errs6){
if(typeof data1 === "string"){
if(!pattern0.test(data1)){
validate54.errors = [{instancePath:instancePath+"/group",schemaPath:"#/$defs/id/pattern",keyword:"pattern",params:{pattern: "^[A-Za-z0-9][A-Za-z0-9._-]{0,63}$"},message:"must match pattern \""+"^[A-Za-z0-9][A-Za-z0-9._-]{0,63}$"+"\""}];
return false;
}
}
else {
validate54.errors = [{instancePath:instancePath+"/group",schemaPath:"#/$defs/id/type",keyword:"type",params:{type: "string"},message:"must be string"}];
return false;
}
}
var valid0 = _errs5 === errors;
}
else {
var valid0 = true;
}
if(valid0){
if(data.number !== undefined){
let data2 = data.number;
const _errs8 = errors;
if(!(((typeof data2 == "number") && (!(data2 % 1) && !isNaN(data2))) && (isFinite(data2)))){
validate54.errors = [{instancePath:instancePath+"/number",schemaPath:"#/properties/number/type",keyword:"type",params:{type: "integer"},message:"must be integer"}];
return false;
}
if(errors === _errs8){
if((typeof data2 == "number") && (isFinite(data2))){
if(data2 > 4096 || isNaN(data2)){
validate54.errors = [{instancePath:instancePath+"/number",schemaPath:"#/properties/number/maximum",keyword:"maximum",params:{comparison: "<=", limit: 4096},message:"must be <= 4096"}];
return false;
}
else {
if(data2 < 1 || isNaN(data2)){
validate54.errors = [{instancePath:instancePath+"/number",schemaPath:"#/properties/number/minimum",keyword:"minimum",params:{comparison: ">=", limit: 1},message:"must be >= 1"}];
return false;
}
}
}
}
var valid0 = _errs8 === errors;
}
else {
var valid0 = true;
}
}
}
}
}
}
else {
validate54.errors = [{instancePath,schemaPath:"#/type",keyword:"type",params:{type: "object"},message:"must be object"}];
return false;
}
}
validate54.errors = vErrors;
return errors === 0;
}


function validate53(data, {instancePath="", parentData, parentDataProperty, rootData=data}={}){
let vErrors = null;
let errors = 0;
if(errors === 0){
if(data && typeof data == "object" && !Array.isArray(data)){
let missing0;
if((((((data.id === undefined) && (missing0 = "id")) || ((data.name === undefined) && (missing0 = "name"))) || ((data.kind === undefined) && (missing0 = "kind"))) || ((data.at === undefined) && (missing0 = "at"))) || ((data.phantom === undefined) && (missing0 = "phantom"))){
validate53.errors = [{instancePath,schemaPath:"#/required",keyword:"required",params:{missingProperty: missing0},message:"must have required property '"+missing0+"'"}];
return false;
}
else {
const _errs1 = errors;
for(const key0 in data){
if(!((((((key0 === "id") || (key0 === "name")) || (key0 === "kind")) || (key0 === "at")) || (key0 === "phantom")) || (key0 === "preampOwner"))){
validate53.errors = [{instancePath,schemaPath:"#/additionalProperties",keyword:"additionalProperties",params:{additionalProperty: key0},message:"must NOT have additional properties"}];
return false;
break;
}
}
if(_errs1 === errors){
if(data.id !== undefined){
let data0 = data.id;
const _errs2 = errors;
const _errs3 = errors;
if(errors === _errs3){
if(typeof data0 === "string"){
if(!pattern0.test(data0)){
validate53.errors = [{instancePath:instancePath+"/id",schemaPath:"#/$defs/id/pattern",keyword:"pattern",params:{pattern: "^[A-Za-z0-9][A-Za-z0-9._-]{0,63}$"},message:"must match pattern \""+"^[A-Za-z0-9][A-Za-z0-9._-]{0,63}$"+"\""}];
return false;
}
}
else {
validate53.errors = [{instancePath:instancePath+"/id",schemaPath:"#/$defs/id/type",keyword:"type",params:{type: "string"},message:"must be string"}];
return false;
}
}
var valid0 = _errs2 === errors;
}
else {
var valid0 = true;
}
if(valid0){
if(data.name !== undefined){
let data1 = data.name;
const _errs5 = errors;
const _errs6 = errors;
if(errors === _errs6){
if(typeof data1 === "string"){
if(!pattern1.test(data1)){
validate53.errors = [{instancePath:instancePath+"/name",schemaPath:"#/$defs/name/pattern",keyword:"pattern",params:{pattern: "^[\\s\\S]{1,200}$"},message:"must match pattern \""+"^[\\s\\S]{1,200}$"+"\""}];
return false;
}
}
else {
validate53.errors = [{instancePath:instancePath+"/name",schemaPath:"#/$defs/name/type",keyword:"type",params:{type: "string"},message:"must be string"}];
return false;
}
}
var valid0 = _errs5 === errors;
}
else {
var valid0 = true;
}
if(valid0){
if(data.kind !== undefined){
let data2 = data.kind;
const _errs8 = errors;
if(!(((((data2 === "microphone") || (data2 === "DI")) || (data2 === "line")) || (data2 === "playback")) || (data2 === "talkback"))){
validate53.errors = [{instancePath:instancePath+"/kind",schemaPath:"#/properties/kind/enum",keyword:"enum",params:{allowedValues: schema71.properties.kind.enum},message:"must be equal to one of the allowed values"}];
return false;
}
var valid0 = _errs8 === errors;
}
else {
var valid0 = true;
}
if(valid0){
if(data.at !== undefined){
const _errs9 = errors;
if(!(validate54(data.at, {instancePath:instancePath+"/at",parentData:data,parentDataProperty:"at",rootData}))){
vErrors = vErrors === null ? validate54.errors : vErrors.concat(validate54.errors);
errors = vErrors.length;
}
var valid0 = _errs9 === errors;
}
else {
var valid0 = true;
}
if(valid0){
if(data.phantom !== undefined){
const _errs10 = errors;
if(typeof data.phantom !== "boolean"){
validate53.errors = [{instancePath:instancePath+"/phantom",schemaPath:"#/properties/phantom/type",keyword:"type",params:{type: "boolean"},message:"must be boolean"}];
return false;
}
var valid0 = _errs10 === errors;
}
else {
var valid0 = true;
}
if(valid0){
if(data.preampOwner !== undefined){
let data5 = data.preampOwner;
const _errs12 = errors;
const _errs13 = errors;
if(errors === _errs13){
if(typeof data5 === "string"){
if(!pattern0.test(data5)){
validate53.errors = [{instancePath:instancePath+"/preampOwner",schemaPath:"#/$defs/id/pattern",keyword:"pattern",params:{pattern: "^[A-Za-z0-9][A-Za-z0-9._-]{0,63}$"},message:"must match pattern \""+"^[A-Za-z0-9][A-Za-z0-9._-]{0,63}$"+"\""}];
return false;
}
}
else {
validate53.errors = [{instancePath:instancePath+"/preampOwner",schemaPath:"#/$defs/id/type",keyword:"type",params:{type: "string"},message:"must be string"}];
return false;
}
}
var valid0 = _errs12 === errors;
}
else {
var valid0 = true;
}
}
}
}
}
}
}
}
}
else {
validate53.errors = [{instancePath,schemaPath:"#/type",keyword:"type",params:{type: "object"},message:"must be object"}];
return false;
}
}
validate53.errors = vErrors;
return errors === 0;
}

const schema78 = {"type":"object","properties":{"id":{"$ref":"#/$defs/id"},"console":{"$ref":"#/$defs/id"},"group":{"$ref":"#/$defs/id"},"number":{"type":"integer","minimum":1,"maximum":4096},"name":{"type":"string","pattern":"^[\\s\\S]{0,200}$"},"source":{"$ref":"#/$defs/id"}},"required":["id","console","group","number","name"],"additionalProperties":false};

function validate57(data, {instancePath="", parentData, parentDataProperty, rootData=data}={}){
let vErrors = null;
let errors = 0;
if(errors === 0){
if(data && typeof data == "object" && !Array.isArray(data)){
let missing0;
if((((((data.id === undefined) && (missing0 = "id")) || ((data.console === undefined) && (missing0 = "console"))) || ((data.group === undefined) && (missing0 = "group"))) || ((data.number === undefined) && (missing0 = "number"))) || ((data.name === undefined) && (missing0 = "name"))){
validate57.errors = [{instancePath,schemaPath:"#/required",keyword:"required",params:{missingProperty: missing0},message:"must have required property '"+missing0+"'"}];
return false;
}
else {
const _errs1 = errors;
for(const key0 in data){
if(!((((((key0 === "id") || (key0 === "console")) || (key0 === "group")) || (key0 === "number")) || (key0 === "name")) || (key0 === "source"))){
validate57.errors = [{instancePath,schemaPath:"#/additionalProperties",keyword:"additionalProperties",params:{additionalProperty: key0},message:"must NOT have additional properties"}];
return false;
break;
}
}
if(_errs1 === errors){
if(data.id !== undefined){
let data0 = data.id;
const _errs2 = errors;
const _errs3 = errors;
if(errors === _errs3){
if(typeof data0 === "string"){
if(!pattern0.test(data0)){
validate57.errors = [{instancePath:instancePath+"/id",schemaPath:"#/$defs/id/pattern",keyword:"pattern",params:{pattern: "^[A-Za-z0-9][A-Za-z0-9._-]{0,63}$"},message:"must match pattern \""+"^[A-Za-z0-9][A-Za-z0-9._-]{0,63}$"+"\""}];
return false;
}
}
else {
validate57.errors = [{instancePath:instancePath+"/id",schemaPath:"#/$defs/id/type",keyword:"type",params:{type: "string"},message:"must be string"}];
return false;
}
}
var valid0 = _errs2 === errors;
}
else {
var valid0 = true;
}
if(valid0){
if(data.console !== undefined){
let data1 = data.console;
const _errs5 = errors;
const _errs6 = errors;
if(errors === _errs6){
if(typeof data1 === "string"){
if(!pattern0.test(data1)){
validate57.errors = [{instancePath:instancePath+"/console",schemaPath:"#/$defs/id/pattern",keyword:"pattern",params:{pattern: "^[A-Za-z0-9][A-Za-z0-9._-]{0,63}$"},message:"must match pattern \""+"^[A-Za-z0-9][A-Za-z0-9._-]{0,63}$"+"\""}];
return false;
}
}
else {
validate57.errors = [{instancePath:instancePath+"/console",schemaPath:"#/$defs/id/type",keyword:"type",params:{type: "string"},message:"must be string"}];
return false;
}
}
var valid0 = _errs5 === errors;
}
else {
var valid0 = true;
}
if(valid0){
if(data.group !== undefined){
let data2 = data.group;
const _errs8 = errors;
const _errs9 = errors;
if(errors === _errs9){
if(typeof data2 === "string"){
if(!pattern0.test(data2)){
validate57.errors = [{instancePath:instancePath+"/group",schemaPath:"#/$defs/id/pattern",keyword:"pattern",params:{pattern: "^[A-Za-z0-9][A-Za-z0-9._-]{0,63}$"},message:"must match pattern \""+"^[A-Za-z0-9][A-Za-z0-9._-]{0,63}$"+"\""}];
return false;
}
}
else {
validate57.errors = [{instancePath:instancePath+"/group",schemaPath:"#/$defs/id/type",keyword:"type",params:{type: "string"},message:"must be string"}];
return false;
}
}
var valid0 = _errs8 === errors;
}
else {
var valid0 = true;
}
if(valid0){
if(data.number !== undefined){
let data3 = data.number;
const _errs11 = errors;
if(!(((typeof data3 == "number") && (!(data3 % 1) && !isNaN(data3))) && (isFinite(data3)))){
validate57.errors = [{instancePath:instancePath+"/number",schemaPath:"#/properties/number/type",keyword:"type",params:{type: "integer"},message:"must be integer"}];
return false;
}
if(errors === _errs11){
if((typeof data3 == "number") && (isFinite(data3))){
if(data3 > 4096 || isNaN(data3)){
validate57.errors = [{instancePath:instancePath+"/number",schemaPath:"#/properties/number/maximum",keyword:"maximum",params:{comparison: "<=", limit: 4096},message:"must be <= 4096"}];
return false;
}
else {
if(data3 < 1 || isNaN(data3)){
validate57.errors = [{instancePath:instancePath+"/number",schemaPath:"#/properties/number/minimum",keyword:"minimum",params:{comparison: ">=", limit: 1},message:"must be >= 1"}];
return false;
}
}
}
}
var valid0 = _errs11 === errors;
}
else {
var valid0 = true;
}
if(valid0){
if(data.name !== undefined){
let data4 = data.name;
const _errs13 = errors;
if(errors === _errs13){
if(typeof data4 === "string"){
if(!pattern2.test(data4)){
validate57.errors = [{instancePath:instancePath+"/name",schemaPath:"#/properties/name/pattern",keyword:"pattern",params:{pattern: "^[\\s\\S]{0,200}$"},message:"must match pattern \""+"^[\\s\\S]{0,200}$"+"\""}];
return false;
}
}
else {
validate57.errors = [{instancePath:instancePath+"/name",schemaPath:"#/properties/name/type",keyword:"type",params:{type: "string"},message:"must be string"}];
return false;
}
}
var valid0 = _errs13 === errors;
}
else {
var valid0 = true;
}
if(valid0){
if(data.source !== undefined){
let data5 = data.source;
const _errs15 = errors;
const _errs16 = errors;
if(errors === _errs16){
if(typeof data5 === "string"){
if(!pattern0.test(data5)){
validate57.errors = [{instancePath:instancePath+"/source",schemaPath:"#/$defs/id/pattern",keyword:"pattern",params:{pattern: "^[A-Za-z0-9][A-Za-z0-9._-]{0,63}$"},message:"must match pattern \""+"^[A-Za-z0-9][A-Za-z0-9._-]{0,63}$"+"\""}];
return false;
}
}
else {
validate57.errors = [{instancePath:instancePath+"/source",schemaPath:"#/$defs/id/type",keyword:"type",params:{type: "string"},message:"must be string"}];
return false;
}
}
var valid0 = _errs15 === errors;
}
else {
var valid0 = true;
}
}
}
}
}
}
}
}
}
else {
validate57.errors = [{instancePath,schemaPath:"#/type",keyword:"type",params:{type: "object"},message:"must be object"}];
return false;
}
}
validate57.errors = vErrors;
return errors === 0;
}

const schema83 = {"type":"object","properties":{"id":{"$ref":"#/$defs/id"},"console":{"$ref":"#/$defs/id"},"group":{"$ref":"#/$defs/id"},"first":{"type":"integer","minimum":1,"maximum":4096},"width":{"enum":[1,2]},"name":{"type":"string","pattern":"^[\\s\\S]{0,200}$"},"members":{"type":"array","items":{"type":"object","properties":{"group":{"$ref":"#/$defs/id"},"number":{"type":"integer","minimum":1,"maximum":4096},"tap":{"enum":["pre","post"]}},"required":["group","number","tap"],"additionalProperties":false},"maxItems":4096}},"required":["id","console","group","first","width","name","members"],"additionalProperties":false};

function validate59(data, {instancePath="", parentData, parentDataProperty, rootData=data}={}){
let vErrors = null;
let errors = 0;
if(errors === 0){
if(data && typeof data == "object" && !Array.isArray(data)){
let missing0;
if((((((((data.id === undefined) && (missing0 = "id")) || ((data.console === undefined) && (missing0 = "console"))) || ((data.group === undefined) && (missing0 = "group"))) || ((data.first === undefined) && (missing0 = "first"))) || ((data.width === undefined) && (missing0 = "width"))) || ((data.name === undefined) && (missing0 = "name"))) || ((data.members === undefined) && (missing0 = "members"))){
validate59.errors = [{instancePath,schemaPath:"#/required",keyword:"required",params:{missingProperty: missing0},message:"must have required property '"+missing0+"'"}];
return false;
}
else {
const _errs1 = errors;
for(const key0 in data){
if(!(((((((key0 === "id") || (key0 === "console")) || (key0 === "group")) || (key0 === "first")) || (key0 === "width")) || (key0 === "name")) || (key0 === "members"))){
validate59.errors = [{instancePath,schemaPath:"#/additionalProperties",keyword:"additionalProperties",params:{additionalProperty: key0},message:"must NOT have additional properties"}];
return false;
break;
}
}
if(_errs1 === errors){
if(data.id !== undefined){
let data0 = data.id;
const _errs2 = errors;
const _errs3 = errors;
if(errors === _errs3){
if(typeof data0 === "string"){
if(!pattern0.test(data0)){
validate59.errors = [{instancePath:instancePath+"/id",schemaPath:"#/$defs/id/pattern",keyword:"pattern",params:{pattern: "^[A-Za-z0-9][A-Za-z0-9._-]{0,63}$"},message:"must match pattern \""+"^[A-Za-z0-9][A-Za-z0-9._-]{0,63}$"+"\""}];
return false;
}
}
else {
validate59.errors = [{instancePath:instancePath+"/id",schemaPath:"#/$defs/id/type",keyword:"type",params:{type: "string"},message:"must be string"}];
return false;
}
}
var valid0 = _errs2 === errors;
}
else {
var valid0 = true;
}
if(valid0){
if(data.console !== undefined){
let data1 = data.console;
const _errs5 = errors;
const _errs6 = errors;
if(errors === _errs6){
if(typeof data1 === "string"){
if(!pattern0.test(data1)){
validate59.errors = [{instancePath:instancePath+"/console",schemaPath:"#/$defs/id/pattern",keyword:"pattern",params:{pattern: "^[A-Za-z0-9][A-Za-z0-9._-]{0,63}$"},message:"must match pattern \""+"^[A-Za-z0-9][A-Za-z0-9._-]{0,63}$"+"\""}];
return false;
}
}
else {
validate59.errors = [{instancePath:instancePath+"/console",schemaPath:"#/$defs/id/type",keyword:"type",params:{type: "string"},message:"must be string"}];
return false;
}
}
var valid0 = _errs5 === errors;
}
else {
var valid0 = true;
}
if(valid0){
if(data.group !== undefined){
let data2 = data.group;
const _errs8 = errors;
const _errs9 = errors;
if(errors === _errs9){
if(typeof data2 === "string"){
if(!pattern0.test(data2)){
validate59.errors = [{instancePath:instancePath+"/group",schemaPath:"#/$defs/id/pattern",keyword:"pattern",params:{pattern: "^[A-Za-z0-9][A-Za-z0-9._-]{0,63}$"},message:"must match pattern \""+"^[A-Za-z0-9][A-Za-z0-9._-]{0,63}$"+"\""}];
return false;
}
}
else {
validate59.errors = [{instancePath:instancePath+"/group",schemaPath:"#/$defs/id/type",keyword:"type",params:{type: "string"},message:"must be string"}];
return false;
}
}
var valid0 = _errs8 === errors;
}
else {
var valid0 = true;
}
if(valid0){
if(data.first !== undefined){
let data3 = data.first;
const _errs11 = errors;
if(!(((typeof data3 == "number") && (!(data3 % 1) && !isNaN(data3))) && (isFinite(data3)))){
validate59.errors = [{instancePath:instancePath+"/first",schemaPath:"#/properties/first/type",keyword:"type",params:{type: "integer"},message:"must be integer"}];
return false;
}
if(errors === _errs11){
if((typeof data3 == "number") && (isFinite(data3))){
if(data3 > 4096 || isNaN(data3)){
validate59.errors = [{instancePath:instancePath+"/first",schemaPath:"#/properties/first/maximum",keyword:"maximum",params:{comparison: "<=", limit: 4096},message:"must be <= 4096"}];
return false;
}
else {
if(data3 < 1 || isNaN(data3)){
validate59.errors = [{instancePath:instancePath+"/first",schemaPath:"#/properties/first/minimum",keyword:"minimum",params:{comparison: ">=", limit: 1},message:"must be >= 1"}];
return false;
}
}
}
}
var valid0 = _errs11 === errors;
}
else {
var valid0 = true;
}
if(valid0){
if(data.width !== undefined){
let data4 = data.width;
const _errs13 = errors;
if(!((data4 === 1) || (data4 === 2))){
validate59.errors = [{instancePath:instancePath+"/width",schemaPath:"#/properties/width/enum",keyword:"enum",params:{allowedValues: schema83.properties.width.enum},message:"must be equal to one of the allowed values"}];
return false;
}
var valid0 = _errs13 === errors;
}
else {
var valid0 = true;
}
if(valid0){
if(data.name !== undefined){
let data5 = data.name;
const _errs14 = errors;
if(errors === _errs14){
if(typeof data5 === "string"){
if(!pattern2.test(data5)){
validate59.errors = [{instancePath:instancePath+"/name",schemaPath:"#/properties/name/pattern",keyword:"pattern",params:{pattern: "^[\\s\\S]{0,200}$"},message:"must match pattern \""+"^[\\s\\S]{0,200}$"+"\""}];
return false;
}
}
else {
validate59.errors = [{instancePath:instancePath+"/name",schemaPath:"#/properties/name/type",keyword:"type",params:{type: "string"},message:"must be string"}];
return false;
}
}
var valid0 = _errs14 === errors;
}
else {
var valid0 = true;
}
if(valid0){
if(data.members !== undefined){
let data6 = data.members;
const _errs16 = errors;
if(errors === _errs16){
if(Array.isArray(data6)){
if(data6.length > 4096){
validate59.errors = [{instancePath:instancePath+"/members",schemaPath:"#/properties/members/maxItems",keyword:"maxItems",params:{limit: 4096},message:"must NOT have more than 4096 items"}];
return false;
}
else {
var valid4 = true;
const len0 = data6.length;
for(let i0=0; i0<len0; i0++){
let data7 = data6[i0];
const _errs18 = errors;
if(errors === _errs18){
if(data7 && typeof data7 == "object" && !Array.isArray(data7)){
let missing1;
if((((data7.group === undefined) && (missing1 = "group")) || ((data7.number === undefined) && (missing1 = "number"))) || ((data7.tap === undefined) && (missing1 = "tap"))){
validate59.errors = [{instancePath:instancePath+"/members/" + i0,schemaPath:"#/properties/members/items/required",keyword:"required",params:{missingProperty: missing1},message:"must have required property '"+missing1+"'"}];
return false;
}
else {
const _errs20 = errors;
for(const key1 in data7){
if(!(((key1 === "group") || (key1 === "number")) || (key1 === "tap"))){
validate59.errors = [{instancePath:instancePath+"/members/" + i0,schemaPath:"#/properties/members/items/additionalProperties",keyword:"additionalProperties",params:{additionalProperty: key1},message:"must NOT have additional properties"}];
return false;
break;
}
}
if(_errs20 === errors){
if(data7.group !== undefined){
let data8 = data7.group;
const _errs21 = errors;
const _errs22 = errors;
if(errors === _errs22){
if(typeof data8 === "string"){
if(!pattern0.test(data8)){
validate59.errors = [{instancePath:instancePath+"/members/" + i0+"/group",schemaPath:"#/$defs/id/pattern",keyword:"pattern",params:{pattern: "^[A-Za-z0-9][A-Za-z0-9._-]{0,63}$"},message:"must match pattern \""+"^[A-Za-z0-9][A-Za-z0-9._-]{0,63}$"+"\""}];
return false;
}
}
else {
validate59.errors = [{instancePath:instancePath+"/members/" + i0+"/group",schemaPath:"#/$defs/id/type",keyword:"type",params:{type: "string"},message:"must be string"}];
return false;
}
}
var valid5 = _errs21 === errors;
}
else {
var valid5 = true;
}
if(valid5){
if(data7.number !== undefined){
let data9 = data7.number;
const _errs24 = errors;
if(!(((typeof data9 == "number") && (!(data9 % 1) && !isNaN(data9))) && (isFinite(data9)))){
validate59.errors = [{instancePath:instancePath+"/members/" + i0+"/number",schemaPath:"#/properties/members/items/properties/number/type",keyword:"type",params:{type: "integer"},message:"must be integer"}];
return false;
}
if(errors === _errs24){
if((typeof data9 == "number") && (isFinite(data9))){
if(data9 > 4096 || isNaN(data9)){
validate59.errors = [{instancePath:instancePath+"/members/" + i0+"/number",schemaPath:"#/properties/members/items/properties/number/maximum",keyword:"maximum",params:{comparison: "<=", limit: 4096},message:"must be <= 4096"}];
return false;
}
else {
if(data9 < 1 || isNaN(data9)){
validate59.errors = [{instancePath:instancePath+"/members/" + i0+"/number",schemaPath:"#/properties/members/items/properties/number/minimum",keyword:"minimum",params:{comparison: ">=", limit: 1},message:"must be >= 1"}];
return false;
}
}
}
}
var valid5 = _errs24 === errors;
}
else {
var valid5 = true;
}
if(valid5){
if(data7.tap !== undefined){
let data10 = data7.tap;
const _errs26 = errors;
if(!((data10 === "pre") || (data10 === "post"))){
validate59.errors = [{instancePath:instancePath+"/members/" + i0+"/tap",schemaPath:"#/properties/members/items/properties/tap/enum",keyword:"enum",params:{allowedValues: schema83.properties.members.items.properties.tap.enum},message:"must be equal to one of the allowed values"}];
return false;
}
var valid5 = _errs26 === errors;
}
else {
var valid5 = true;
}
}
}
}
}
}
else {
validate59.errors = [{instancePath:instancePath+"/members/" + i0,schemaPath:"#/properties/members/items/type",keyword:"type",params:{type: "object"},message:"must be object"}];
return false;
}
}
var valid4 = _errs18 === errors;
if(!valid4){
break;
}
}
}
}
else {
validate59.errors = [{instancePath:instancePath+"/members",schemaPath:"#/properties/members/type",keyword:"type",params:{type: "array"},message:"must be array"}];
return false;
}
}
var valid0 = _errs16 === errors;
}
else {
var valid0 = true;
}
}
}
}
}
}
}
}
}
}
else {
validate59.errors = [{instancePath,schemaPath:"#/type",keyword:"type",params:{type: "object"},message:"must be object"}];
return false;
}
}
validate59.errors = vErrors;
return errors === 0;
}

const schema88 = {"type":"object","properties":{"id":{"$ref":"#/$defs/id"},"name":{"$ref":"#/$defs/name"},"to":{"$ref":"#/$defs/terminal"},"from":{"$ref":"#/$defs/terminal"}},"required":["id","name","to"],"additionalProperties":false};

function validate61(data, {instancePath="", parentData, parentDataProperty, rootData=data}={}){
let vErrors = null;
let errors = 0;
if(errors === 0){
if(data && typeof data == "object" && !Array.isArray(data)){
let missing0;
if((((data.id === undefined) && (missing0 = "id")) || ((data.name === undefined) && (missing0 = "name"))) || ((data.to === undefined) && (missing0 = "to"))){
validate61.errors = [{instancePath,schemaPath:"#/required",keyword:"required",params:{missingProperty: missing0},message:"must have required property '"+missing0+"'"}];
return false;
}
else {
const _errs1 = errors;
for(const key0 in data){
if(!((((key0 === "id") || (key0 === "name")) || (key0 === "to")) || (key0 === "from"))){
validate61.errors = [{instancePath,schemaPath:"#/additionalProperties",keyword:"additionalProperties",params:{additionalProperty: key0},message:"must NOT have additional properties"}];
return false;
break;
}
}
if(_errs1 === errors){
if(data.id !== undefined){
let data0 = data.id;
const _errs2 = errors;
const _errs3 = errors;
if(errors === _errs3){
if(typeof data0 === "string"){
if(!pattern0.test(data0)){
validate61.errors = [{instancePath:instancePath+"/id",schemaPath:"#/$defs/id/pattern",keyword:"pattern",params:{pattern: "^[A-Za-z0-9][A-Za-z0-9._-]{0,63}$"},message:"must match pattern \""+"^[A-Za-z0-9][A-Za-z0-9._-]{0,63}$"+"\""}];
return false;
}
}
else {
validate61.errors = [{instancePath:instancePath+"/id",schemaPath:"#/$defs/id/type",keyword:"type",params:{type: "string"},message:"must be string"}];
return false;
}
}
var valid0 = _errs2 === errors;
}
else {
var valid0 = true;
}
if(valid0){
if(data.name !== undefined){
let data1 = data.name;
const _errs5 = errors;
const _errs6 = errors;
if(errors === _errs6){
if(typeof data1 === "string"){
if(!pattern1.test(data1)){
validate61.errors = [{instancePath:instancePath+"/name",schemaPath:"#/$defs/name/pattern",keyword:"pattern",params:{pattern: "^[\\s\\S]{1,200}$"},message:"must match pattern \""+"^[\\s\\S]{1,200}$"+"\""}];
return false;
}
}
else {
validate61.errors = [{instancePath:instancePath+"/name",schemaPath:"#/$defs/name/type",keyword:"type",params:{type: "string"},message:"must be string"}];
return false;
}
}
var valid0 = _errs5 === errors;
}
else {
var valid0 = true;
}
if(valid0){
if(data.to !== undefined){
const _errs8 = errors;
if(!(validate54(data.to, {instancePath:instancePath+"/to",parentData:data,parentDataProperty:"to",rootData}))){
vErrors = vErrors === null ? validate54.errors : vErrors.concat(validate54.errors);
errors = vErrors.length;
}
var valid0 = _errs8 === errors;
}
else {
var valid0 = true;
}
if(valid0){
if(data.from !== undefined){
const _errs9 = errors;
if(!(validate54(data.from, {instancePath:instancePath+"/from",parentData:data,parentDataProperty:"from",rootData}))){
vErrors = vErrors === null ? validate54.errors : vErrors.concat(validate54.errors);
errors = vErrors.length;
}
var valid0 = _errs9 === errors;
}
else {
var valid0 = true;
}
}
}
}
}
}
}
else {
validate61.errors = [{instancePath,schemaPath:"#/type",keyword:"type",params:{type: "object"},message:"must be object"}];
return false;
}
}
validate61.errors = vErrors;
return errors === 0;
}

const schema91 = {"type":"object","properties":{"at":{"$ref":"#/$defs/terminal"},"result":{"enum":["passed","failed"]},"date":{"type":"string","pattern":"^[\\s\\S]{0,40}$"},"note":{"$ref":"#/$defs/note"},"trace":{"type":"string","pattern":"^[\\s\\S]{0,200}$"}},"required":["at","result","date","note","trace"],"additionalProperties":false};
const pattern53 = new RegExp("^[\\s\\S]{0,40}$", "u");

function validate65(data, {instancePath="", parentData, parentDataProperty, rootData=data}={}){
let vErrors = null;
let errors = 0;
if(errors === 0){
if(data && typeof data == "object" && !Array.isArray(data)){
let missing0;
if((((((data.at === undefined) && (missing0 = "at")) || ((data.result === undefined) && (missing0 = "result"))) || ((data.date === undefined) && (missing0 = "date"))) || ((data.note === undefined) && (missing0 = "note"))) || ((data.trace === undefined) && (missing0 = "trace"))){
validate65.errors = [{instancePath,schemaPath:"#/required",keyword:"required",params:{missingProperty: missing0},message:"must have required property '"+missing0+"'"}];
return false;
}
else {
const _errs1 = errors;
for(const key0 in data){
if(!(((((key0 === "at") || (key0 === "result")) || (key0 === "date")) || (key0 === "note")) || (key0 === "trace"))){
validate65.errors = [{instancePath,schemaPath:"#/additionalProperties",keyword:"additionalProperties",params:{additionalProperty: key0},message:"must NOT have additional properties"}];
return false;
break;
}
}
if(_errs1 === errors){
if(data.at !== undefined){
const _errs2 = errors;
if(!(validate54(data.at, {instancePath:instancePath+"/at",parentData:data,parentDataProperty:"at",rootData}))){
vErrors = vErrors === null ? validate54.errors : vErrors.concat(validate54.errors);
errors = vErrors.length;
}
var valid0 = _errs2 === errors;
}
else {
var valid0 = true;
}
if(valid0){
if(data.result !== undefined){
let data1 = data.result;
const _errs3 = errors;
if(!((data1 === "passed") || (data1 === "failed"))){
validate65.errors = [{instancePath:instancePath+"/result",schemaPath:"#/properties/result/enum",keyword:"enum",params:{allowedValues: schema91.properties.result.enum},message:"must be equal to one of the allowed values"}];
return false;
}
var valid0 = _errs3 === errors;
}
else {
var valid0 = true;
}
if(valid0){
if(data.date !== undefined){
let data2 = data.date;
const _errs4 = errors;
if(errors === _errs4){
if(typeof data2 === "string"){
if(!pattern53.test(data2)){
validate65.errors = [{instancePath:instancePath+"/date",schemaPath:"#/properties/date/pattern",keyword:"pattern",params:{pattern: "^[\\s\\S]{0,40}$"},message:"must match pattern \""+"^[\\s\\S]{0,40}$"+"\""}];
return false;
}
}
else {
validate65.errors = [{instancePath:instancePath+"/date",schemaPath:"#/properties/date/type",keyword:"type",params:{type: "string"},message:"must be string"}];
return false;
}
}
var valid0 = _errs4 === errors;
}
else {
var valid0 = true;
}
if(valid0){
if(data.note !== undefined){
let data3 = data.note;
const _errs6 = errors;
const _errs7 = errors;
if(errors === _errs7){
if(typeof data3 === "string"){
if(!pattern3.test(data3)){
validate65.errors = [{instancePath:instancePath+"/note",schemaPath:"#/$defs/note/pattern",keyword:"pattern",params:{pattern: "^[\\s\\S]{0,20000}$"},message:"must match pattern \""+"^[\\s\\S]{0,20000}$"+"\""}];
return false;
}
}
else {
validate65.errors = [{instancePath:instancePath+"/note",schemaPath:"#/$defs/note/type",keyword:"type",params:{type: "string"},message:"must be string"}];
return false;
}
}
var valid0 = _errs6 === errors;
}
else {
var valid0 = true;
}
if(valid0){
if(data.trace !== undefined){
let data4 = data.trace;
const _errs9 = errors;
if(errors === _errs9){
if(typeof data4 === "string"){
if(!pattern2.test(data4)){
validate65.errors = [{instancePath:instancePath+"/trace",schemaPath:"#/properties/trace/pattern",keyword:"pattern",params:{pattern: "^[\\s\\S]{0,200}$"},message:"must match pattern \""+"^[\\s\\S]{0,200}$"+"\""}];
return false;
}
}
else {
validate65.errors = [{instancePath:instancePath+"/trace",schemaPath:"#/properties/trace/type",keyword:"type",params:{type: "string"},message:"must be string"}];
return false;
}
}
var valid0 = _errs9 === errors;
}
else {
var valid0 = true;
}
}
}
}
}
}
}
}
else {
validate65.errors = [{instancePath,schemaPath:"#/type",keyword:"type",params:{type: "object"},message:"must be object"}];
return false;
}
}
validate65.errors = vErrors;
return errors === 0;
}

const schema93 = {"type":"object","properties":{"name":{"$ref":"#/$defs/name"},"date":{"type":"string","pattern":"^[\\s\\S]{0,40}$"},"note":{"$ref":"#/$defs/note"}},"required":["name","date","note"],"additionalProperties":false};

function validate68(data, {instancePath="", parentData, parentDataProperty, rootData=data}={}){
let vErrors = null;
let errors = 0;
if(errors === 0){
if(data && typeof data == "object" && !Array.isArray(data)){
let missing0;
if((((data.name === undefined) && (missing0 = "name")) || ((data.date === undefined) && (missing0 = "date"))) || ((data.note === undefined) && (missing0 = "note"))){
validate68.errors = [{instancePath,schemaPath:"#/required",keyword:"required",params:{missingProperty: missing0},message:"must have required property '"+missing0+"'"}];
return false;
}
else {
const _errs1 = errors;
for(const key0 in data){
if(!(((key0 === "name") || (key0 === "date")) || (key0 === "note"))){
validate68.errors = [{instancePath,schemaPath:"#/additionalProperties",keyword:"additionalProperties",params:{additionalProperty: key0},message:"must NOT have additional properties"}];
return false;
break;
}
}
if(_errs1 === errors){
if(data.name !== undefined){
let data0 = data.name;
const _errs2 = errors;
const _errs3 = errors;
if(errors === _errs3){
if(typeof data0 === "string"){
if(!pattern1.test(data0)){
validate68.errors = [{instancePath:instancePath+"/name",schemaPath:"#/$defs/name/pattern",keyword:"pattern",params:{pattern: "^[\\s\\S]{1,200}$"},message:"must match pattern \""+"^[\\s\\S]{1,200}$"+"\""}];
return false;
}
}
else {
validate68.errors = [{instancePath:instancePath+"/name",schemaPath:"#/$defs/name/type",keyword:"type",params:{type: "string"},message:"must be string"}];
return false;
}
}
var valid0 = _errs2 === errors;
}
else {
var valid0 = true;
}
if(valid0){
if(data.date !== undefined){
let data1 = data.date;
const _errs5 = errors;
if(errors === _errs5){
if(typeof data1 === "string"){
if(!pattern53.test(data1)){
validate68.errors = [{instancePath:instancePath+"/date",schemaPath:"#/properties/date/pattern",keyword:"pattern",params:{pattern: "^[\\s\\S]{0,40}$"},message:"must match pattern \""+"^[\\s\\S]{0,40}$"+"\""}];
return false;
}
}
else {
validate68.errors = [{instancePath:instancePath+"/date",schemaPath:"#/properties/date/type",keyword:"type",params:{type: "string"},message:"must be string"}];
return false;
}
}
var valid0 = _errs5 === errors;
}
else {
var valid0 = true;
}
if(valid0){
if(data.note !== undefined){
let data2 = data.note;
const _errs7 = errors;
const _errs8 = errors;
if(errors === _errs8){
if(typeof data2 === "string"){
if(!pattern3.test(data2)){
validate68.errors = [{instancePath:instancePath+"/note",schemaPath:"#/$defs/note/pattern",keyword:"pattern",params:{pattern: "^[\\s\\S]{0,20000}$"},message:"must match pattern \""+"^[\\s\\S]{0,20000}$"+"\""}];
return false;
}
}
else {
validate68.errors = [{instancePath:instancePath+"/note",schemaPath:"#/$defs/note/type",keyword:"type",params:{type: "string"},message:"must be string"}];
return false;
}
}
var valid0 = _errs7 === errors;
}
else {
var valid0 = true;
}
}
}
}
}
}
else {
validate68.errors = [{instancePath,schemaPath:"#/type",keyword:"type",params:{type: "object"},message:"must be object"}];
return false;
}
}
validate68.errors = vErrors;
return errors === 0;
}


function validate10(data, {instancePath="", parentData, parentDataProperty, rootData=data}={}){
/*# sourceURL="https://hopline.invalid/schema/show-1.json" */;
let vErrors = null;
let errors = 0;
if(errors === 0){
if(data && typeof data == "object" && !Array.isArray(data)){
let missing0;
if((((((((((((((((((data.format === undefined) && (missing0 = "format")) || ((data.version === undefined) && (missing0 = "version"))) || ((data.id === undefined) && (missing0 = "id"))) || ((data.title === undefined) && (missing0 = "title"))) || ((data.venue === undefined) && (missing0 = "venue"))) || ((data.notes === undefined) && (missing0 = "notes"))) || ((data.settings === undefined) && (missing0 = "settings"))) || ((data.places === undefined) && (missing0 = "places"))) || ((data.types === undefined) && (missing0 = "types"))) || ((data.devices === undefined) && (missing0 = "devices"))) || ((data.cables === undefined) && (missing0 = "cables"))) || ((data.sources === undefined) && (missing0 = "sources"))) || ((data.channels === undefined) && (missing0 = "channels"))) || ((data.mixes === undefined) && (missing0 = "mixes"))) || ((data.wants === undefined) && (missing0 = "wants"))) || ((data.lineChecks === undefined) && (missing0 = "lineChecks"))) || ((data.revisions === undefined) && (missing0 = "revisions"))){
validate10.errors = [{instancePath,schemaPath:"#/required",keyword:"required",params:{missingProperty: missing0},message:"must have required property '"+missing0+"'"}];
return false;
}
else {
const _errs1 = errors;
for(const key0 in data){
if(!(func2.call(schema11.properties, key0))){
validate10.errors = [{instancePath,schemaPath:"#/additionalProperties",keyword:"additionalProperties",params:{additionalProperty: key0},message:"must NOT have additional properties"}];
return false;
break;
}
}
if(_errs1 === errors){
if(data.format !== undefined){
const _errs2 = errors;
if("hopline.show" !== data.format){
validate10.errors = [{instancePath:instancePath+"/format",schemaPath:"#/properties/format/const",keyword:"const",params:{allowedValue: "hopline.show"},message:"must be equal to constant"}];
return false;
}
var valid0 = _errs2 === errors;
}
else {
var valid0 = true;
}
if(valid0){
if(data.version !== undefined){
const _errs3 = errors;
if(1 !== data.version){
validate10.errors = [{instancePath:instancePath+"/version",schemaPath:"#/properties/version/const",keyword:"const",params:{allowedValue: 1},message:"must be equal to constant"}];
return false;
}
var valid0 = _errs3 === errors;
}
else {
var valid0 = true;
}
if(valid0){
if(data.id !== undefined){
let data2 = data.id;
const _errs4 = errors;
const _errs5 = errors;
if(errors === _errs5){
if(typeof data2 === "string"){
if(!pattern0.test(data2)){
validate10.errors = [{instancePath:instancePath+"/id",schemaPath:"#/$defs/id/pattern",keyword:"pattern",params:{pattern: "^[A-Za-z0-9][A-Za-z0-9._-]{0,63}$"},message:"must match pattern \""+"^[A-Za-z0-9][A-Za-z0-9._-]{0,63}$"+"\""}];
return false;
}
}
else {
validate10.errors = [{instancePath:instancePath+"/id",schemaPath:"#/$defs/id/type",keyword:"type",params:{type: "string"},message:"must be string"}];
return false;
}
}
var valid0 = _errs4 === errors;
}
else {
var valid0 = true;
}
if(valid0){
if(data.title !== undefined){
let data3 = data.title;
const _errs7 = errors;
const _errs8 = errors;
if(errors === _errs8){
if(typeof data3 === "string"){
if(!pattern1.test(data3)){
validate10.errors = [{instancePath:instancePath+"/title",schemaPath:"#/$defs/name/pattern",keyword:"pattern",params:{pattern: "^[\\s\\S]{1,200}$"},message:"must match pattern \""+"^[\\s\\S]{1,200}$"+"\""}];
return false;
}
}
else {
validate10.errors = [{instancePath:instancePath+"/title",schemaPath:"#/$defs/name/type",keyword:"type",params:{type: "string"},message:"must be string"}];
return false;
}
}
var valid0 = _errs7 === errors;
}
else {
var valid0 = true;
}
if(valid0){
if(data.venue !== undefined){
let data4 = data.venue;
const _errs10 = errors;
if(errors === _errs10){
if(typeof data4 === "string"){
if(!pattern2.test(data4)){
validate10.errors = [{instancePath:instancePath+"/venue",schemaPath:"#/properties/venue/pattern",keyword:"pattern",params:{pattern: "^[\\s\\S]{0,200}$"},message:"must match pattern \""+"^[\\s\\S]{0,200}$"+"\""}];
return false;
}
}
else {
validate10.errors = [{instancePath:instancePath+"/venue",schemaPath:"#/properties/venue/type",keyword:"type",params:{type: "string"},message:"must be string"}];
return false;
}
}
var valid0 = _errs10 === errors;
}
else {
var valid0 = true;
}
if(valid0){
if(data.notes !== undefined){
let data5 = data.notes;
const _errs12 = errors;
const _errs13 = errors;
if(errors === _errs13){
if(typeof data5 === "string"){
if(!pattern3.test(data5)){
validate10.errors = [{instancePath:instancePath+"/notes",schemaPath:"#/$defs/note/pattern",keyword:"pattern",params:{pattern: "^[\\s\\S]{0,20000}$"},message:"must match pattern \""+"^[\\s\\S]{0,20000}$"+"\""}];
return false;
}
}
else {
validate10.errors = [{instancePath:instancePath+"/notes",schemaPath:"#/$defs/note/type",keyword:"type",params:{type: "string"},message:"must be string"}];
return false;
}
}
var valid0 = _errs12 === errors;
}
else {
var valid0 = true;
}
if(valid0){
if(data.settings !== undefined){
let data6 = data.settings;
const _errs15 = errors;
const _errs16 = errors;
if(errors === _errs16){
if(data6 && typeof data6 == "object" && !Array.isArray(data6)){
let missing1;
if((((data6.sampleRate === undefined) && (missing1 = "sampleRate")) || ((data6.units === undefined) && (missing1 = "units"))) || ((data6.paper === undefined) && (missing1 = "paper"))){
validate10.errors = [{instancePath:instancePath+"/settings",schemaPath:"#/$defs/settings/required",keyword:"required",params:{missingProperty: missing1},message:"must have required property '"+missing1+"'"}];
return false;
}
else {
const _errs18 = errors;
for(const key1 in data6){
if(!(((key1 === "sampleRate") || (key1 === "units")) || (key1 === "paper"))){
validate10.errors = [{instancePath:instancePath+"/settings",schemaPath:"#/$defs/settings/additionalProperties",keyword:"additionalProperties",params:{additionalProperty: key1},message:"must NOT have additional properties"}];
return false;
break;
}
}
if(_errs18 === errors){
if(data6.sampleRate !== undefined){
let data7 = data6.sampleRate;
const _errs19 = errors;
if(!((((((data7 === 44100) || (data7 === 48000)) || (data7 === 88200)) || (data7 === 96000)) || (data7 === 176400)) || (data7 === 192000))){
validate10.errors = [{instancePath:instancePath+"/settings/sampleRate",schemaPath:"#/$defs/settings/properties/sampleRate/enum",keyword:"enum",params:{allowedValues: schema15.properties.sampleRate.enum},message:"must be equal to one of the allowed values"}];
return false;
}
var valid5 = _errs19 === errors;
}
else {
var valid5 = true;
}
if(valid5){
if(data6.units !== undefined){
let data8 = data6.units;
const _errs20 = errors;
if(!((data8 === "metric") || (data8 === "imperial"))){
validate10.errors = [{instancePath:instancePath+"/settings/units",schemaPath:"#/$defs/settings/properties/units/enum",keyword:"enum",params:{allowedValues: schema15.properties.units.enum},message:"must be equal to one of the allowed values"}];
return false;
}
var valid5 = _errs20 === errors;
}
else {
var valid5 = true;
}
if(valid5){
if(data6.paper !== undefined){
let data9 = data6.paper;
const _errs21 = errors;
if(!((((data9 === "A4") || (data9 === "A3")) || (data9 === "Letter")) || (data9 === "Tabloid"))){
validate10.errors = [{instancePath:instancePath+"/settings/paper",schemaPath:"#/$defs/settings/properties/paper/enum",keyword:"enum",params:{allowedValues: schema15.properties.paper.enum},message:"must be equal to one of the allowed values"}];
return false;
}
var valid5 = _errs21 === errors;
}
else {
var valid5 = true;
}
}
}
}
}
}
else {
validate10.errors = [{instancePath:instancePath+"/settings",schemaPath:"#/$defs/settings/type",keyword:"type",params:{type: "object"},message:"must be object"}];
return false;
}
}
var valid0 = _errs15 === errors;
}
else {
var valid0 = true;
}
if(valid0){
if(data.places !== undefined){
let data10 = data.places;
const _errs22 = errors;
if(errors === _errs22){
if(Array.isArray(data10)){
if(data10.length > 5000){
validate10.errors = [{instancePath:instancePath+"/places",schemaPath:"#/properties/places/maxItems",keyword:"maxItems",params:{limit: 5000},message:"must NOT have more than 5000 items"}];
return false;
}
else {
var valid6 = true;
const len0 = data10.length;
for(let i0=0; i0<len0; i0++){
const _errs24 = errors;
if(!(validate11(data10[i0], {instancePath:instancePath+"/places/" + i0,parentData:data10,parentDataProperty:i0,rootData}))){
vErrors = vErrors === null ? validate11.errors : vErrors.concat(validate11.errors);
errors = vErrors.length;
}
var valid6 = _errs24 === errors;
if(!valid6){
break;
}
}
}
}
else {
validate10.errors = [{instancePath:instancePath+"/places",schemaPath:"#/properties/places/type",keyword:"type",params:{type: "array"},message:"must be array"}];
return false;
}
}
var valid0 = _errs22 === errors;
}
else {
var valid0 = true;
}
if(valid0){
if(data.types !== undefined){
let data12 = data.types;
const _errs25 = errors;
if(errors === _errs25){
if(Array.isArray(data12)){
if(data12.length > 2000){
validate10.errors = [{instancePath:instancePath+"/types",schemaPath:"#/properties/types/maxItems",keyword:"maxItems",params:{limit: 2000},message:"must NOT have more than 2000 items"}];
return false;
}
else {
var valid7 = true;
const len1 = data12.length;
for(let i1=0; i1<len1; i1++){
const _errs27 = errors;
if(!(validate13(data12[i1], {instancePath:instancePath+"/types/" + i1,parentData:data12,parentDataProperty:i1,rootData}))){
vErrors = vErrors === null ? validate13.errors : vErrors.concat(validate13.errors);
errors = vErrors.length;
}
var valid7 = _errs27 === errors;
if(!valid7){
break;
}
}
}
}
else {
validate10.errors = [{instancePath:instancePath+"/types",schemaPath:"#/properties/types/type",keyword:"type",params:{type: "array"},message:"must be array"}];
return false;
}
}
var valid0 = _errs25 === errors;
}
else {
var valid0 = true;
}
if(valid0){
if(data.devices !== undefined){
let data14 = data.devices;
const _errs28 = errors;
if(errors === _errs28){
if(Array.isArray(data14)){
if(data14.length > 5000){
validate10.errors = [{instancePath:instancePath+"/devices",schemaPath:"#/properties/devices/maxItems",keyword:"maxItems",params:{limit: 5000},message:"must NOT have more than 5000 items"}];
return false;
}
else {
var valid8 = true;
const len2 = data14.length;
for(let i2=0; i2<len2; i2++){
const _errs30 = errors;
if(!(validate42(data14[i2], {instancePath:instancePath+"/devices/" + i2,parentData:data14,parentDataProperty:i2,rootData}))){
vErrors = vErrors === null ? validate42.errors : vErrors.concat(validate42.errors);
errors = vErrors.length;
}
var valid8 = _errs30 === errors;
if(!valid8){
break;
}
}
}
}
else {
validate10.errors = [{instancePath:instancePath+"/devices",schemaPath:"#/properties/devices/type",keyword:"type",params:{type: "array"},message:"must be array"}];
return false;
}
}
var valid0 = _errs28 === errors;
}
else {
var valid0 = true;
}
if(valid0){
if(data.cables !== undefined){
let data16 = data.cables;
const _errs31 = errors;
if(errors === _errs31){
if(Array.isArray(data16)){
if(data16.length > 50000){
validate10.errors = [{instancePath:instancePath+"/cables",schemaPath:"#/properties/cables/maxItems",keyword:"maxItems",params:{limit: 50000},message:"must NOT have more than 50000 items"}];
return false;
}
else {
var valid9 = true;
const len3 = data16.length;
for(let i3=0; i3<len3; i3++){
const _errs33 = errors;
if(!(validate49(data16[i3], {instancePath:instancePath+"/cables/" + i3,parentData:data16,parentDataProperty:i3,rootData}))){
vErrors = vErrors === null ? validate49.errors : vErrors.concat(validate49.errors);
errors = vErrors.length;
}
var valid9 = _errs33 === errors;
if(!valid9){
break;
}
}
}
}
else {
validate10.errors = [{instancePath:instancePath+"/cables",schemaPath:"#/properties/cables/type",keyword:"type",params:{type: "array"},message:"must be array"}];
return false;
}
}
var valid0 = _errs31 === errors;
}
else {
var valid0 = true;
}
if(valid0){
if(data.sources !== undefined){
let data18 = data.sources;
const _errs34 = errors;
if(errors === _errs34){
if(Array.isArray(data18)){
if(data18.length > 50000){
validate10.errors = [{instancePath:instancePath+"/sources",schemaPath:"#/properties/sources/maxItems",keyword:"maxItems",params:{limit: 50000},message:"must NOT have more than 50000 items"}];
return false;
}
else {
var valid10 = true;
const len4 = data18.length;
for(let i4=0; i4<len4; i4++){
const _errs36 = errors;
if(!(validate53(data18[i4], {instancePath:instancePath+"/sources/" + i4,parentData:data18,parentDataProperty:i4,rootData}))){
vErrors = vErrors === null ? validate53.errors : vErrors.concat(validate53.errors);
errors = vErrors.length;
}
var valid10 = _errs36 === errors;
if(!valid10){
break;
}
}
}
}
else {
validate10.errors = [{instancePath:instancePath+"/sources",schemaPath:"#/properties/sources/type",keyword:"type",params:{type: "array"},message:"must be array"}];
return false;
}
}
var valid0 = _errs34 === errors;
}
else {
var valid0 = true;
}
if(valid0){
if(data.channels !== undefined){
let data20 = data.channels;
const _errs37 = errors;
if(errors === _errs37){
if(Array.isArray(data20)){
if(data20.length > 50000){
validate10.errors = [{instancePath:instancePath+"/channels",schemaPath:"#/properties/channels/maxItems",keyword:"maxItems",params:{limit: 50000},message:"must NOT have more than 50000 items"}];
return false;
}
else {
var valid11 = true;
const len5 = data20.length;
for(let i5=0; i5<len5; i5++){
const _errs39 = errors;
if(!(validate57(data20[i5], {instancePath:instancePath+"/channels/" + i5,parentData:data20,parentDataProperty:i5,rootData}))){
vErrors = vErrors === null ? validate57.errors : vErrors.concat(validate57.errors);
errors = vErrors.length;
}
var valid11 = _errs39 === errors;
if(!valid11){
break;
}
}
}
}
else {
validate10.errors = [{instancePath:instancePath+"/channels",schemaPath:"#/properties/channels/type",keyword:"type",params:{type: "array"},message:"must be array"}];
return false;
}
}
var valid0 = _errs37 === errors;
}
else {
var valid0 = true;
}
if(valid0){
if(data.mixes !== undefined){
let data22 = data.mixes;
const _errs40 = errors;
if(errors === _errs40){
if(Array.isArray(data22)){
if(data22.length > 20000){
validate10.errors = [{instancePath:instancePath+"/mixes",schemaPath:"#/properties/mixes/maxItems",keyword:"maxItems",params:{limit: 20000},message:"must NOT have more than 20000 items"}];
return false;
}
else {
var valid12 = true;
const len6 = data22.length;
for(let i6=0; i6<len6; i6++){
const _errs42 = errors;
if(!(validate59(data22[i6], {instancePath:instancePath+"/mixes/" + i6,parentData:data22,parentDataProperty:i6,rootData}))){
vErrors = vErrors === null ? validate59.errors : vErrors.concat(validate59.errors);
errors = vErrors.length;
}
var valid12 = _errs42 === errors;
if(!valid12){
break;
}
}
}
}
else {
validate10.errors = [{instancePath:instancePath+"/mixes",schemaPath:"#/properties/mixes/type",keyword:"type",params:{type: "array"},message:"must be array"}];
return false;
}
}
var valid0 = _errs40 === errors;
}
else {
var valid0 = true;
}
if(valid0){
if(data.wants !== undefined){
let data24 = data.wants;
const _errs43 = errors;
if(errors === _errs43){
if(Array.isArray(data24)){
if(data24.length > 50000){
validate10.errors = [{instancePath:instancePath+"/wants",schemaPath:"#/properties/wants/maxItems",keyword:"maxItems",params:{limit: 50000},message:"must NOT have more than 50000 items"}];
return false;
}
else {
var valid13 = true;
const len7 = data24.length;
for(let i7=0; i7<len7; i7++){
const _errs45 = errors;
if(!(validate61(data24[i7], {instancePath:instancePath+"/wants/" + i7,parentData:data24,parentDataProperty:i7,rootData}))){
vErrors = vErrors === null ? validate61.errors : vErrors.concat(validate61.errors);
errors = vErrors.length;
}
var valid13 = _errs45 === errors;
if(!valid13){
break;
}
}
}
}
else {
validate10.errors = [{instancePath:instancePath+"/wants",schemaPath:"#/properties/wants/type",keyword:"type",params:{type: "array"},message:"must be array"}];
return false;
}
}
var valid0 = _errs43 === errors;
}
else {
var valid0 = true;
}
if(valid0){
if(data.lineChecks !== undefined){
let data26 = data.lineChecks;
const _errs46 = errors;
if(errors === _errs46){
if(Array.isArray(data26)){
if(data26.length > 50000){
validate10.errors = [{instancePath:instancePath+"/lineChecks",schemaPath:"#/properties/lineChecks/maxItems",keyword:"maxItems",params:{limit: 50000},message:"must NOT have more than 50000 items"}];
return false;
}
else {
var valid14 = true;
const len8 = data26.length;
for(let i8=0; i8<len8; i8++){
const _errs48 = errors;
if(!(validate65(data26[i8], {instancePath:instancePath+"/lineChecks/" + i8,parentData:data26,parentDataProperty:i8,rootData}))){
vErrors = vErrors === null ? validate65.errors : vErrors.concat(validate65.errors);
errors = vErrors.length;
}
var valid14 = _errs48 === errors;
if(!valid14){
break;
}
}
}
}
else {
validate10.errors = [{instancePath:instancePath+"/lineChecks",schemaPath:"#/properties/lineChecks/type",keyword:"type",params:{type: "array"},message:"must be array"}];
return false;
}
}
var valid0 = _errs46 === errors;
}
else {
var valid0 = true;
}
if(valid0){
if(data.revisions !== undefined){
let data28 = data.revisions;
const _errs49 = errors;
if(errors === _errs49){
if(Array.isArray(data28)){
if(data28.length > 5000){
validate10.errors = [{instancePath:instancePath+"/revisions",schemaPath:"#/properties/revisions/maxItems",keyword:"maxItems",params:{limit: 5000},message:"must NOT have more than 5000 items"}];
return false;
}
else {
var valid15 = true;
const len9 = data28.length;
for(let i9=0; i9<len9; i9++){
const _errs51 = errors;
if(!(validate68(data28[i9], {instancePath:instancePath+"/revisions/" + i9,parentData:data28,parentDataProperty:i9,rootData}))){
vErrors = vErrors === null ? validate68.errors : vErrors.concat(validate68.errors);
errors = vErrors.length;
}
var valid15 = _errs51 === errors;
if(!valid15){
break;
}
}
}
}
else {
validate10.errors = [{instancePath:instancePath+"/revisions",schemaPath:"#/properties/revisions/type",keyword:"type",params:{type: "array"},message:"must be array"}];
return false;
}
}
var valid0 = _errs49 === errors;
}
else {
var valid0 = true;
}
}
}
}
}
}
}
}
}
}
}
}
}
}
}
}
}
}
}
}
else {
validate10.errors = [{instancePath,schemaPath:"#/type",keyword:"type",params:{type: "object"},message:"must be object"}];
return false;
}
}
validate10.errors = vErrors;
return errors === 0;
}
