"""A specification compiled to plain data, as text: written, read with every part checked, sealed with its digest."""
