package app

// Scope says which farms an actor may know of, and with them everything that
// hangs on a farm. Its parts add up; the zero Scope sees nothing. What lies
// outside is answered as if it did not exist.
type Scope struct {
	All         bool     // every farm of the firm
	Branches    []string // the farms of these branches
	PersonFarms string   // the farms on which this person works
	Owner       string   // the farms of the clients for whom this person signs in
}

// Everything is the scope of the server itself and of whoever may see all.
var Everything = Scope{All: true}
