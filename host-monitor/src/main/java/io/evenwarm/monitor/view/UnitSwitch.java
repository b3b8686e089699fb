package io.evenwarm.monitor.view;

import io.evenwarm.quantity.TemperatureUnit;
import java.util.EnumMap;
import java.util.Map;
import java.util.function.Consumer;
import javafx.scene.control.ToggleButton;
import javafx.scene.layout.HBox;

/** °C or °F. */
final class UnitSwitch extends HBox {

    private final Map<TemperatureUnit, ToggleButton> buttons = new EnumMap<>(TemperatureUnit.class);

    UnitSwitch(Consumer<TemperatureUnit> onChosen) {
        super(-1);
        for (TemperatureUnit unit : TemperatureUnit.values()) {
            ToggleButton button = new ToggleButton(unit.symbol());
            button.getStyleClass()
                    .addAll("segment", unit == TemperatureUnit.CELSIUS ? "first" : "last");
            button.setId("unit-" + unit);
            button.setOnAction(
                    event -> {
                        button.setSelected(true);
                        onChosen.accept(unit);
                    });
            Nodes.hint(button, "Show temperatures in " + unit.symbol() + " (U switches)");
            buttons.put(unit, button);
            getChildren().add(button);
        }
    }

    void show(TemperatureUnit unit) {
        buttons.forEach((its, button) -> button.setSelected(its == unit));
    }
}
