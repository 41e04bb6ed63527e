"""Operations: keyword arguments in, frozen dataclass out; they join tables and physics."""
