package widgets

// Columns are the table's columns, as it was made with.
func (t *Table[T]) Columns() []TableColumn[T] { return t.columns }
