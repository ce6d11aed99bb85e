package isoxml

import "encoding/xml"

// The elements of the format that this package writes. Go names say what the
// one-letter attributes mean.

// Values of enumerated attributes.
const (
	originFarm     = 1  // DataTransferOrigin: management software
	statusPlanned  = 1  // TaskStatus
	timePlanned    = 1  // Time Type
	typeSingle     = 1  // ProductType
	typeMixture    = 2  // ProductType
	pointReference = 10 // PointType: partfield reference point
)

// Numbers of the data dictionary (ISO 11783-11), as the format writes them.
const (
	volumePerArea = "0001" // setpoint volume per area, 0.01 mm³/m²
	volumeContent = "0048" // volume content, ml
	massContent   = "004B" // mass content, g
)

type taskData struct {
	XMLName   xml.Name    `xml:"ISO11783_TaskData"`
	Major     int         `xml:"VersionMajor,attr"`
	Minor     int         `xml:"VersionMinor,attr"`
	Maker     string      `xml:"ManagementSoftwareManufacturer,attr"`
	Version   string      `xml:"ManagementSoftwareVersion,attr"`
	Origin    int         `xml:"DataTransferOrigin,attr"`
	Customers []customer  `xml:"CTR"`
	Fields    []partfield `xml:"PFD"`
	Products  []product   `xml:"PDT"`
	Tasks     []task      `xml:"TSK"`
}

type customer struct {
	ID   string `xml:"A,attr"`
	Name string `xml:"B,attr"`
}

type partfield struct {
	ID       string `xml:"A,attr"`
	Name     string `xml:"C,attr"`
	Area     int64  `xml:"D,attr"` // m²
	Customer string `xml:"E,attr,omitempty"`
	Point    *point `xml:"PNT"`
}

type point struct {
	Type  int    `xml:"A,attr"`
	North string `xml:"C,attr"` // degrees
	East  string `xml:"D,attr"` // degrees
}

type product struct {
	ID        string     `xml:"A,attr"`
	Name      string     `xml:"B,attr"`
	Quantity  string     `xml:"E,attr"` // what its quantities count
	Type      int        `xml:"F,attr"`
	Recipe    int64      `xml:"G,attr,omitempty"` // of a mixture: what its relations make
	Relations []relation `xml:"PRN"`
}

// relation is what of a product goes into a mixture's recipe, in the quantity
// of that product.
type relation struct {
	Product  string `xml:"A,attr"`
	Quantity int64  `xml:"B,attr"`
}

type task struct {
	ID          string    `xml:"A,attr"`
	Name        string    `xml:"B,attr"`
	Customer    string    `xml:"C,attr,omitempty"`
	Field       string    `xml:"E,attr"`
	Status      int       `xml:"G,attr"`
	DefaultZone int       `xml:"H,attr"`
	Zone        zone      `xml:"TZN"`
	Times       []planned `xml:"TIM"`
}

type zone struct {
	Code     int      `xml:"A,attr"`
	Name     string   `xml:"B,attr"`
	Variable variable `xml:"PDV"`
}

type variable struct {
	DDI     string `xml:"A,attr"`
	Value   int64  `xml:"B,attr"`
	Product string `xml:"C,attr"`
}

type planned struct {
	Start string `xml:"A,attr"`
	Stop  string `xml:"B,attr"`
	Type  int    `xml:"D,attr"`
}
