package io.evenwarm.monitor.view;

import io.evenwarm.monitor.report.Picture;
import java.util.Locale;
import javafx.scene.Node;
import javafx.scene.layout.Pane;
import javafx.scene.paint.Color;
import javafx.scene.shape.Polygon;
import javafx.scene.shape.Polyline;
import javafx.scene.shape.Rectangle;
import javafx.scene.text.Text;

/** A picture of plain shapes, as large as it says. */
final class PictureNode extends Pane {

    PictureNode(Picture picture) {
        setMinSize(picture.width(), picture.height());
        setPrefSize(picture.width(), picture.height());
        setMaxSize(picture.width(), picture.height());
        setAccessibleText(picture.title());
        Painter painter = new Painter();
        picture.shapes().forEach(shape -> getChildren().add(shape.fold(painter)));
    }

    private static final class Painter implements Picture.Painter<Node> {

        @Override
        public Node box(Picture.Box box) {
            Rectangle drawn = new Rectangle(box.x(), box.y(), box.width(), box.height());
            drawn.setArcWidth(2 * box.round());
            drawn.setArcHeight(2 * box.round());
            drawn.setFill(Color.web(box.fill()));
            if (box.edge() > 0) {
                drawn.setStroke(Color.web(Picture.INK));
                drawn.setStrokeWidth(box.edge());
            }
            return drawn;
        }

        @Override
        public Node line(Picture.Line line) {
            Polyline drawn = new Polyline();
            for (int i = 0; i < line.xs().size(); i++) {
                drawn.getPoints().addAll(line.xs().get(i), line.ys().get(i));
            }
            drawn.setStroke(Color.web(line.colour()));
            drawn.setStrokeWidth(line.width());
            if (line.isDashed()) {
                drawn.getStrokeDashArray().addAll(6.0, 4.0);
            }
            return drawn;
        }

        @Override
        public Node area(Picture.Area area) {
            Polygon drawn = new Polygon();
            for (int i = 0; i < area.xs().size(); i++) {
                drawn.getPoints().addAll(area.xs().get(i), area.ys().get(i));
            }
            drawn.setFill(Color.web(area.fill()));
            return drawn;
        }

        @Override
        public Node words(Picture.Words words) {
            Text drawn = new Text(words.x(), words.y(), words.text());
            drawn.getStyleClass().add("picture-" + words.style().name().toLowerCase(Locale.ROOT));
            drawn.setFill(Color.web(words.colour()));
            double share =
                    switch (words.anchor()) {
                        case START -> 0;
                        case MIDDLE -> -0.5;
                        case END -> -1;
                    };
            // How wide words are is known once the window's look has come over them.
            drawn.layoutBoundsProperty()
                    .addListener((its, before, now) -> drawn.setTranslateX(share * now.getWidth()));
            drawn.setTranslateX(share * drawn.getLayoutBounds().getWidth());
            return drawn;
        }
    }
}
