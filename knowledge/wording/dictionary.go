package wording

// Dictionary is what people type for what the records say. It is authored in
// knowledge/catalogue/data/words.yaml; every key of each entry must be there:
//
//	synonyms:                                    # words for the words of the records
//	  - {means: governor, said: [gov, guv]}
//	wants:                                       # words that ask for a kind of record
//	  - {kind: value, said: [spec, should be]}
//	fillers: [truck, please]                     # words that say nothing
//	names:                                       # further names of records
//	  - {of: value/service-fill, said: [fluid fill]}
//	asked: [pan-bolts]                           # ids of the values asked for most often
type Dictionary struct {
	Synonyms []Synonym
	Wants    []Want
	Fillers  []string
	Names    []Name
	Asked    []string
}

// Synonym is what is said for the words of a record. What is said is words as
// Split cuts them, so that "3-4" also stands for "3 4" and "3/4".
type Synonym struct {
	Means string
	Said  []string
}

// Want is words that ask for a kind of record.
type Want struct {
	Kind string
	Said []string
}

// Name is further names of one record, which is given as kind/id.
type Name struct {
	Of   string
	Said []string
}
