package complaint

// The lexicon folds what people say into a few dozen notions of the trade. The
// words come from memory of how customers and technicians talk; the catalogue's
// own phrases go through the same folding, so that a word that isn't listed
// here still matches itself.
//
// A notion is written in capitals. Gears are notions of their own: g3 is third
// gear, s2-3 the shift from second to third, i3 the way into third.
const (
	not      = "NOT"
	notUntil = "NOT-UNTIL" // not at first, but later
	lost     = "LOST"      // had and has no more: gone, quit, dead
	fine     = "FINE"      // the opposite of a complaint
	lockup   = "LOCKUP"
	drive    = "DRIVE"
	neutral  = "NEUTRAL"
	park     = "PARK"
	reverse  = "gR"
	shift    = "SHIFT"
	upshift  = "UPSHIFT"
	revs     = "REVS"
	revsUp   = "REVS-UP"
	hot      = "HOT"
	cold     = "COLD"
	floor    = "FLOOR" // the pedal well down
	load     = "LOAD"  // a hill, a trailer
	light    = "LIGHT-PEDAL"
	every    = "EVERY-GEAR"
	stop     = "STOP" // a traffic light, a stop sign
	lamp     = "LAMP"
	number   = "NUMBER"
	slow     = "SLOW" // a road speed of a low gear, in figures
	fast     = "FAST" // a road speed of a high gear, in figures
	code     = "CODE"
	filler   = ""  // says nothing about the complaint
	soft     = "," // words that join two complaints, or two parts of one
	either   = "/" // "or", which carries a "not" on to what follows
	hard     = "." // words that end one complaint
)

// sayings are words and groups of words that mean one notion. Where several
// fit, the longest counts.
var sayings = []struct {
	notion string
	said   []string
}{
	{not, []string{"no", "not", "wont", "dont", "doesnt", "didnt", "cant", "cannot", "isnt", "aint", "arent", "wasnt", "hasnt", "havent",
		"couldnt", "wouldnt", "never", "nothing", "without", "none", "no longer", "neither", "refuses to", "refuses", "fails to", "failed to"}},
	{lost, []string{"lost", "lose", "loses", "losing", "gone", "quit", "quits", "quitting", "dead", "inop", "inoperative", "quit working",
		"stopped working", "stops working", "not working", "does not work", "doesnt work", "dont work", "wont work", "isnt working",
		"not work", "went out", "is out", "went away", "missing", "disappeared", "kaput", "gave out", "has failed", "failed"}},
	{fine, []string{"fine", "good", "ok", "okay", "great", "perfect", "perfectly", "normal", "normally", "strong", "alright", "all right",
		"works", "work", "working", "no problem", "no problems", "no issue", "no issues", "no trouble", "no complaints", "nothing wrong with",
		"like it should", "as it should", "is there", "solid"}},
	{filler, []string{"no good", "not good", "isnt good", "not right", "isnt right", "not only", "not just", "not sure", "at first", "no matter",
		"a bit", "a little", "all the sudden", "all of a sudden", "fine until", "fine till", "ok until", "ok till", "good until", "good till", "works until",
		"works fine until", "for some reason", "kind of", "sort of", "i think", "feels like", "seems like", "acts like", "the thing", "thing", "now and", "pretty", "real", "really",
		"bad", "badly", "very", "kinda", "sorta", "sometimes", "truck", "pickup", "rig", "vehicle", "transmission", "trans", "tranny", "trany", "tranmission", "gearbox",
		"customer", "states", "complains", "says", "complaint", "hi", "hello", "please", "help", "thanks", "problem", "problems", "issue", "issues", "it", "she", "he", "also it",
		"mph", "miles per hour", "drives", "driving", "drove", "driven", "put", "puts", "select", "around", "about", "it feels", "got", "get", "gets", "getting", "just", "still", "start", "starts", "started", "starting", "happens", "will", "would", "should", "could", "does", "do", "did", "have", "has", "had", "been", "be", "is", "are", "was",
		"way", "much", "too", "lot", "lots", "bit", "any", "some", "something", "even", "always", "only when", "only if", "only after", "only once", "only happens when", "the time", "when", "whenever", "while", "if", "once", "until", "till", "right", "well", "even when"}},
	{lockup, []string{"lockup", "lockups", "lock", "locks", "locking", "locked", "lock up", "locks up", "locking up", "locked up", "tcc", "t c c",
		"torque converter clutch", "torque converter lockup", "torque converter lock up", "converter lockup", "converter lock up",
		"converter clutch", "tc lockup", "tc lock up", "tc clutch", "tc"}},
	{"CONVERTER", []string{"converter", "torque converter", "torque convertor", "convertor"}},
	{drive, []string{"drive", "d", "forward", "forwards"}},
	{neutral, []string{"neutral", "n", "neutrals", "neutrals out", "neutraled out", "neutraling out"}},
	{park, []string{"park", "p"}},
	{reverse, []string{"reverse", "r", "rvs", "back up", "back out", "backs out", "backs up", "backed up", "backing up", "backup", "backwards", "backward", "backing", "back gear", "reversing",
		"rev gear"}},
	{"g1", []string{"first", "1st", "1", "low gear", "in low", "manual low", "low range", "in l"}},
	{"g2", []string{"second", "2nd", "2"}},
	{"g3", []string{"third", "3rd", "3", "direct"}},
	{"g4", []string{"fourth", "forth", "4th", "4", "od", "o d", "overdrive", "over drive", "top gear"}},
	{shift, []string{"shift", "shifts", "shifting", "shifted", "gear change", "gear changes", "changes gear", "changes gears", "change gear", "change gears", "next gear", "between gears", "come out of", "comes out of", "get out of", "shift out of", "shifts out of"}},
	{upshift, []string{"upshift", "upshifts", "upshifting", "up shift", "up shifts", "up shifting"}},
	{"KICK", []string{"kickdown", "kick down", "kicks down", "kicking down", "downshift", "downshifts", "downshifting", "down shift", "down shifts", "drop a gear", "drops a gear", "drop down a gear", "drops down a gear", "passing gear"}},
	{"SLIP", []string{"slip", "slips", "slipping", "slipped", "slippage", "slippy", "slipper", "slipin", "slippin"}},
	{"SLIDE", []string{"slide", "slides", "sliding", "slid"}},
	{"FLARE", []string{"flare", "flares", "flaring", "flared", "flair", "flairs", "flaring up", "flares up", "flare up"}},
	{revs, []string{"revs", "rpm", "rpms", "tach", "tachometer", "rev", "revving", "revved", "engine speed"}},
	{revsUp, []string{"revs up", "rev up", "revving up", "revved up", "revs climb", "revs jump", "revs rise", "revs go up", "rpm jumps", "rpms jump", "rpm goes up", "rpms go up", "rpms climb", "rpm climbs",
		"rpm creeps up", "rpm shoots up", "rpms shoot up", "tach climbs", "tach jumps", "winds up", "wind up", "winding up", "winds way up", "runs away", "run away", "ran away", "runs up", "runs up on", "races", "race", "racing",
		"overspeeds", "zings", "zing", "spins up", "revs high"}},
	{"HARSH", []string{"harsh", "harshly", "hard", "rough", "roughly", "bang", "bangs", "banging", "slam", "slams", "slamming", "clunk", "clunks", "clunky", "clunking", "jerk", "jerks", "jerky", "jerking", "jolt", "jolts", "thump", "thumps", "thud", "violent", "violently", "snaps", "neck snapping", "whack", "wham"}},
	{"LURCH", []string{"lurch", "lurches", "lurching", "jumps", "leaps"}},
	{"SHUDDER", []string{"shudder", "shudders", "shuddering", "judder", "judders", "chatter", "chatters", "rumble strip", "rumble strips", "washboard", "washboards"}},
	{"VIBRATE", []string{"vibration", "vibrations", "vibrates", "vibrate", "vibrating", "shake", "shakes", "shaking", "shimmy", "shimmies"}},
	{"NOISE", []string{"noise", "noises", "noisy", "sound", "sounds"}},
	{"WHINE", []string{"whine", "whines", "whining", "whirring", "whir", "howl", "howls", "howling", "moan", "moans", "moaning", "growl", "growls", "growling", "buzzing noise", "squeal", "squeals", "hum", "hums", "humming", "drone", "drones"}},
	{"LEAK", []string{"leak", "leaks", "leaking", "leaked", "leaky", "drip", "drips", "dripping", "seep", "seeps"}},
	{"PUKE", []string{"puke", "pukes", "puking", "spit", "spits", "spitting", "burp", "burps", "throws", "blows", "blowing", "throwing"}},
	{"FLUID", []string{"fluid", "oil", "atf", "juice"}},
	{"BURNT", []string{"burnt", "burned", "scorched", "toasted", "cooked"}},
	{"EARLY", []string{"early", "soon", "too early", "too soon"}},
	{"LATE", []string{"late", "later", "too late"}},
	{"HUNT", []string{"hunt", "hunts", "hunting", "cycle", "cycles", "cycling", "in and out", "back and forth", "on and off", "searching", "searches", "up and down", "rpm goes up and down", "rpms go up and down", "rpm up and down", "revs go up and down"}},
	{"CRUISE", []string{"highway", "freeway", "interstate", "cruise", "cruising", "steady speed", "steady throttle", "constant speed", "level road", "flat road"}},
	{"GO", []string{"go", "goes", "going", "went"}},
	{"MOVE", []string{"move", "moves", "moving", "movement", "budge", "budges", "pull", "pulls", "pulling", "pulled"}},
	{"ENGAGE", []string{"engage", "engages", "engagement", "engaging", "goes into gear", "go into gear", "put in gear", "put it in gear", "into gear", "goes in gear", "go in gear", "in gear"}},
	{"WAIT", []string{"wait", "waits", "waiting", "takes a while", "takes forever", "delay", "delays", "delayed", "pause", "hesitates", "hesitation", "takes a few seconds", "takes several seconds", "slow to", "few seconds", "three seconds", "couple of seconds", "couple seconds", "several seconds", "takes its time", "slow engagement", "slow engaging", "slow reverse", "slow drive"}},
	{"STALL", []string{"stall", "stalls", "stalling", "stalled", "dies", "die", "died", "dying", "kills the engine", "conks out", "quits running", "engine quits"}},
	{"STUCK", []string{"stuck", "sticks", "stays", "stay", "remains", "hangs", "locked in"}},
	{"LIMP", []string{"limp", "limp mode", "limp home", "limp home mode", "failsafe", "fail safe"}},
	{"WEAK", []string{"weak", "slow", "sluggish", "lazy", "gutless", "no power", "doggy", "no low end", "slow off", "anemic"}},
	{"LAUNCH", []string{"gear start", "gear starts", "launch", "launches", "takeoff", "takeoffs", "take off", "takes off", "taking off", "pulls away", "pulling away", "pull away", "starts out", "starts off", "start out", "start off", "starting out", "starting off", "starts in", "starting in", "off the line", "leaves the line", "leave the line", "leaves a stop", "from a dead stop", "from a stop", "from a standstill", "from a light"}},
	{stop, []string{"at a light", "at a stop", "stop sign", "stop signs", "stop light", "stoplight", "red light", "red lights", "traffic light", "traffic lights", "coming to a stop", "come to a stop", "slowing down", "slow down", "to a stop"}},
	{lamp, []string{"check engine light", "check engine", "cel", "mil", "engine light", "warning light", "warning lights", "warning lamp", "idiot light", "dash light", "lamp", "lamps", "od light", "overdrive light", "o d light", "od off light", "o d off light", "od off lamp", "overdrive off light", "overdrive off lamp", "light on the dash"}},
	{code, []string{"code", "codes", "dtc", "dtcs", "trouble code", "trouble codes", "fault code", "fault codes"}},
	{"HEAT", []string{"overheat", "overheats", "overheating", "overheated", "runs hot", "running hot", "run hot", "ran hot"}},
	{"BRAKING", []string{"engine braking", "engine brake", "compression braking", "hold back", "holdback", "braking on the engine"}},
	{"COAST", []string{"coast", "coasts", "coasting", "freewheel", "freewheels", "free wheels", "freewheeling", "free wheel", "free wheeling"}},
	{"BIND", []string{"bind", "binds", "binding", "bind up", "ties up", "tie up", "tied up", "tieup"}},
	{"CREEP", []string{"creep", "creeps", "creeping"}},
	{"ROLL", []string{"roll", "rolls", "rolling", "rolled"}},
	{"SURGE", []string{"surge", "surges", "surging"}},
	{"SPEEDO", []string{"speedometer", "speedo", "speedometers"}},
	{"METAL", []string{"metal", "brass", "filings", "shavings", "flakes", "glitter"}},
	{"ERRATIC", []string{"erratic", "erratically", "random", "randomly", "odd", "weird", "weirdly", "unpredictable", "unpredictably", "inconsistent", "strange", "strangely", "funny", "goofy", "crazy", "confused", "for no reason", "no reason", "whenever it wants", "when it wants", "when it feels like it", "all over the place", "mind of its own"}},
	{"SKIP", []string{"skip", "skips", "skipping", "skipped", "jumps over", "jumps from", "jumps straight", "misses", "straight to", "straight from"}},
	{"PRESSURE", []string{"pressure", "psi", "line pressure"}},
	{"ONLY", []string{"only"}},
	{"ENGINE", []string{"engine", "motor"}},
	{"GEAR", []string{"gear", "gears", "range", "ranges"}},
	{every, []string{"all gears", "every gear", "any gear", "each gear", "all ranges", "every range", "any range", "everywhere", "all the gears", "whatever gear", "no matter what gear"}},
	{hot, []string{"hot", "warm", "warmed up", "warms up", "warmed", "warms", "gets hot", "gets warm", "heats up", "heated up", "up to temp", "up to temperature",
		"operating temp", "operating temperature", "normal temp", "after a while", "after driving", "after driving a while", "after driving for a while", "after a long drive", "after it warms up", "long trip", "long drive", "not cold", "not when cold", "fine cold", "its fine cold", "fine when cold", "fine when its cold", "ok cold", "ok when cold", "ok when its cold", "good cold", "good when cold", "works cold", "works fine cold", "works fine when cold", "works when cold"}},
	{cold, []string{"cold", "first thing in the morning", "first thing", "in the morning", "in the mornings", "mornings", "morning", "overnight", "over night", "after sitting", "after sitting all night", "sitting all night", "first started", "first start", "first start up", "cold start", "cold soak", "winter", "freezing",
		"not hot", "not when hot", "fine hot", "fine when hot", "fine when its hot", "ok hot", "ok when hot", "good when hot", "fine warm", "fine when warm", "fine once warm", "fine once it warms up", "ok warm", "ok once warm", "goes away once warm", "goes away once it warms up", "goes away when it warms up"}},
	{floor, []string{"floor it", "floors it", "floored", "flooring it", "flooring", "floor the pedal", "wot", "wide open", "wide open throttle", "full throttle", "heavy throttle", "hard throttle", "heavy foot", "step on it", "stepping on it", "stomp on it", "stomp it", "stand on it", "mash it", "mash the gas", "punch it", "punching it", "get on it", "getting on it", "get into it", "hammer it", "hammer down", "pedal to the metal", "put my foot down", "foot down", "foot in it", "on the floor", "to the floor", "hard acceleration", "accelerating hard", "accelerate hard", "accelerating", "acceleration", "accelerate", "give it gas", "give it the gas", "giving it gas", "hard on the gas", "lots of throttle", "under throttle", "kick it"}},
	{load, []string{"under load", "under a load", "with a load", "heavy load", "with a heavy load", "pulling a hill", "pulling hills", "pulling a grade", "pulling a trailer", "pulling my trailer", "pulling the trailer", "pulling a load", "towing", "tow", "trailer", "camper", "hauling", "loaded", "uphill", "up hill", "up a hill", "up hills", "up the hill", "hill", "hills", "climbing", "grade", "grades", "slope", "mountain", "mountains"}},
	{light, []string{"light throttle", "light gas", "light pedal", "light foot", "light acceleration", "part throttle", "easy throttle", "easy on the gas", "easy on it", "taking it easy", "take it easy", "driving easy", "drive easy", "driving it easy", "easy driving", "easy", "gently", "gentle", "baby it", "babying it", "feather it", "feathering it", "small throttle", "little throttle", "barely touching the gas"}},
	{soft, []string{"and", "then"}},
	{either, []string{"or", "nor"}},
	{hard, []string{"but", "also", "plus", "however", "although", "though", "additionally", "otherwise", "except", "besides", "as well as", "and also", "on top of that"}},
	{"OVERDRIVE-OFF", []string{"overdrive off", "od off", "o d off", "overdrive switched off", "overdrive turned off", "od turned off", "od switched off", "overdrive locked out", "od locked out", "overdrive button off"}},
	{"DROP", []string{"drop", "drops", "dropping", "dropped"}},
	{"NOTHING-HAPPENS", []string{"nothing happens", "nothing happened", "it just sits there", "just sits there", "sits there"}},
	{"SHIFTS-WELL", []string{"shift smooth", "shift smoothly", "shift right", "shift good", "shift well", "shift properly", "shift correctly", "shift like it should"}},
	{"BY-ITSELF", []string{"by itself", "on its own", "by its self"}},
	{"TEMP", []string{"temp", "temps", "temperature", "temperatures", "temp gauge", "temperature gauge"}},
	{"GIVES-OUT", []string{"stops pulling", "quits pulling", "quit pulling", "stopped pulling", "stops moving", "quits moving", "quit moving", "stopped moving", "stop pulling", "stop moving"}},
	{"NO-PULL", []string{"but the truck does not", "but the truck doesnt", "but it does not move", "but it doesnt move", "but doesnt move", "but it doesnt go", "but doesnt go", "but the truck doesnt move", "but the truck doesnt go", "but the truck doesnt speed up", "but the truck does not speed up", "but it doesnt speed up", "but doesnt speed up", "but it barely moves", "but barely moves", "and it barely moves", "but no go", "but nothing happens", "without speeding up", "and goes nowhere", "but goes nowhere"}},
	{"MIND", []string{"make up its mind", "decide"}},
}

// kin are notions that come near each other, with how near.
var kin = []struct {
	a, b string
	near float64
}{
	{lost, not, 0.85},
	{"SLIDE", "SLIP", 0.85},
	{"SLIDE", "FLARE", 0.7},
	{revsUp, "FLARE", 0.8},
	{revsUp, "SLIP", 0.5},
	{revsUp, revs, 0.6},
	{"GO", "MOVE", 0.5},
	{"GO", shift, 0.7},
	{upshift, shift, 0.85},
	{"LURCH", "HARSH", 0.7},
	{floor, load, 0.5},
	{"VIBRATE", "SHUDDER", 0.6},
	{"WHINE", "NOISE", 0.7},
	{"CREEP", "MOVE", 0.6},
	{"ROLL", "MOVE", 0.6},
	{"ROLL", "CREEP", 0.7},
	{"WAIT", "LATE", 0.6},
	{lamp, code, 0.6},
	{"LAUNCH", stop, 0.7},
	{"HUNT", "SURGE", 0.6},
	{"STUCK", "LIMP", 0.5},
	{"GIVES-OUT", lost, 0.7},
	{fast, "CRUISE", 0.7},
	{"DROP", "GO", 0.7},
	{"SKIP", "GO", 0.6},
	{"i2", shift, 0.7}, {"i3", shift, 0.7}, {"i4", shift, 0.7},
	{notUntil, not, 0.7},
	{notUntil, "LATE", 0.7},
	{"iD", "iR", 0.6},
	{"i2", "g2", 0.6}, {"i3", "g3", 0.6}, {"i4", "g4", 0.7}, {"iR", reverse, 0.9}, {"i1", "g1", 0.75},
	{"i2", "s1-2", 0.9}, {"i3", "s2-3", 0.9}, {"i4", "s3-4", 0.9},
	{"iD", drive, 0.9},
}

// weak notions make no complaint by themselves.
var weak = []string{park, neutral, not, lost, fine, hot, cold, floor, load, light, shift, upshift, "GO", "GEAR", "ONLY", number, revs, stop, every, slow, fast, "ENGINE", "long"}

// functions are what a sound unit does; that it doesn't is a complaint.
var functions = []string{"MOVE", "GO", "ENGAGE", shift, upshift, "KICK", lockup, "BRAKING", "WAIT", "come"}

// fixed weights of the notions that decide more, or less, than their rarity
// says.
var fixed = []struct {
	notion string
	weight float64
}{
	{not, 1.2}, {lost, 1.3}, {fine, 0.5}, {hot, 1.0}, {cold, 1.0}, {floor, 1.0}, {load, 1.0}, {light, 1.0},
	{shift, 1.0}, {"GO", 0.6}, {"MOVE", 1.2}, {number, 0.3}, {slow, 0.9}, {fast, 0.9}, {"GEAR", 0.3}, {"ONLY", 0.8}, {"ENGINE", 0.5}, {"long", 0.4}, {drive, 1.4}, {revs, 1.0}, {"NOISE", 1.5}, {notUntil, 1.2},
}

const (
	gearWeight    = 2.0  // a gear decides between the members of a family
	unknownWeight = 0.5  // a word that no phrase has, inside a complaint
	strayWeak     = 0.15 // a condition or a negation that the phrase hasn't got
	strayGear     = 1.2  // a gear that the phrase doesn't name; it narrows the complaint
)
