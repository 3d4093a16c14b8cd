package recipe

// Category is what kind of thing a component is.
type Category string

// The categories.
const (
	Spirit        Category = "spirit"
	Liqueur       Category = "liqueur"
	FortifiedWine Category = "fortified_wine"
	Wine          Category = "wine"
	SparklingWine Category = "sparkling_wine"
	Beer          Category = "beer"
	Cider         Category = "cider"
	Bitters       Category = "bitters"
	Juice         Category = "juice"
	Syrup         Category = "syrup"
	SoftDrink     Category = "soft_drink"
	WaterCategory Category = "water"
	Dairy         Category = "dairy"
	Egg           Category = "egg"
	Sugar         Category = "sugar"
	Acid          Category = "acid"
	Salt          Category = "salt"
	Botanical     Category = "botanical"
	Fruit         Category = "fruit"
	GarnishItem   Category = "garnish"
	IceCategory   Category = "ice"
	Packaging     Category = "packaging"
	Other         Category = "other"
)

// Categories lists every category in the order shown to people.
var Categories = []Category{
	Spirit, Liqueur, FortifiedWine, Wine, SparklingWine, Beer, Cider, Bitters, Juice, Syrup, SoftDrink,
	WaterCategory, Dairy, Egg, Sugar, Acid, Salt, Botanical, Fruit, GarnishItem, IceCategory, Packaging, Other,
}
