package io.evenwarm.codec;

import com.fasterxml.jackson.databind.JavaType;
import com.fasterxml.jackson.databind.PropertyNamingStrategy;
import com.fasterxml.jackson.databind.cfg.MapperConfig;
import com.fasterxml.jackson.databind.introspect.Annotated;
import com.fasterxml.jackson.databind.introspect.AnnotatedField;
import com.fasterxml.jackson.databind.introspect.AnnotatedMethod;
import com.fasterxml.jackson.databind.introspect.AnnotatedParameter;
import io.evenwarm.quantity.Duty;
import io.evenwarm.quantity.Temperature;
import java.time.Instant;
import java.util.Map;
import java.util.Optional;

/**
 * Ends the key of a quantity in its unit, because in CBOR it is a bare number: {@code setPoint} of
 * type Temperature becomes {@code setPointCelsius}.
 */
final class UnitKeys extends PropertyNamingStrategy {

    private static final long serialVersionUID = 1L;

    private static final Map<Class<?>, String> UNITS =
            Map.of(Temperature.class, "Celsius", Duty.class, "Fraction", Instant.class, "Nanos");

    @Override
    public String nameForConstructorParameter(
            MapperConfig<?> config, AnnotatedParameter parameter, String name) {
        return withUnit(name, parameter);
    }

    @Override
    public String nameForField(MapperConfig<?> config, AnnotatedField field, String name) {
        return withUnit(name, field);
    }

    @Override
    public String nameForGetterMethod(MapperConfig<?> config, AnnotatedMethod method, String name) {
        return withUnit(name, method);
    }

    private static String withUnit(String name, Annotated component) {
        JavaType type = component.getType();
        Class<?> quantity =
                type.hasRawClass(Optional.class)
                        ? type.containedType(0).getRawClass()
                        : type.getRawClass();
        return name + UNITS.getOrDefault(quantity, "");
    }
}
