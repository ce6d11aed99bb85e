package dayfiles

// Snake turns a field's name into a key.
var Snake = snake
