package quantity

// KindOf returns the kind of a type's values; 0 for a type that is none of this package's quantities.
func KindOf[Q ~float64]() Kind {
	switch any(Q(0)).(type) {
	case Resistance:
		return OfResistance
	case Voltage:
		return OfVoltage
	case Current:
		return OfCurrent
	case Temperature:
		return OfTemperature
	case TemperatureDifference:
		return OfTemperatureDifference
	case Inductance:
		return OfInductance
	case Frequency:
		return OfFrequency
	case Time:
		return OfTime
	case Power:
		return OfPower
	case Energy:
		return OfEnergy
	case ThermalResistance:
		return OfThermalResistance
	case Torque:
		return OfTorque
	case Force:
		return OfForce
	case Length:
		return OfLength
	case Area:
		return OfArea
	case Angle:
		return OfAngle
	case Ratio:
		return OfRatio
	}
	return 0
}

// UnitNamed finds the unit of a kind by its symbol.
func UnitNamed(k Kind, symbol string) (Unit, bool) {
	for _, u := range byKind[k] {
		if u.Symbol == symbol {
			return u, true
		}
	}
	return Unit{}, false
}
