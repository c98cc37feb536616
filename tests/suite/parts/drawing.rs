//! Laying out a sheet and a slider: nothing over another thing, round places, dimensions as the trade writes them.

mod chain {
    use wallplate::papers::drawing::chain::{Base, Side, steps};
    use wallplate::papers::drawing::sheet::{Item, Rect};

    #[test]
    fn texts_of_a_crowded_chain_lie_over_nothing() {
        let places = [0.0, 1.0, 2.5, 3.0, 40.0, 41.0];
        let words: Vec<String> = ["50", "75", "25", "1850", "50"].map(str::to_owned).to_vec();
        for side in [Side::Below, Side::Left, Side::Right] {
            let mut items = Vec::new();
            steps(&Base { side, edge: 0.0, start: 0.0, passing: vec![20.0] }, &places, &words, &mut items);
            let texts: Vec<Rect> = items.iter().filter(|item| matches!(item, Item::Text(_))).map(Item::bounds).collect();
            assert_eq!(texts.len(), words.len(), "{side:?}");
            for (at, text) in texts.iter().enumerate() {
                assert!(!texts[at + 1..].iter().any(|other| other.overlaps(text)), "{side:?}: {texts:?}");
            }
        }
    }
}

mod spread {
    use wallplate::papers::drawing::spread::apart;

    #[test]
    fn things_are_pushed_apart_and_no_farther() {
        assert_eq!(apart(&[0.0, 10.0, 20.0], &[3.0; 3]), [0.0, 10.0, 20.0]);
        assert_eq!(apart(&[10.0, 10.0, 10.0], &[3.0; 3]), [7.0, 10.0, 13.0]);
        let sizes = [2.0, 6.0, 2.0, 4.0, 2.0];
        let places = apart(&[0.0, 1.0, 2.0, 3.0, 30.0], &sizes);
        for at in 1..places.len() {
            assert!(places[at] - places[at - 1] >= (sizes[at] + sizes[at - 1]) / 2.0 - 1e-9, "{places:?}");
        }
        assert!((places[4] - 30.0).abs() < 1e-9, "{places:?}");
    }
}

mod lettering {
    use wallplate::papers::drawing::lettering::{NORMAL, cut, dimension, length, lines};
    use wallplate::units::{METRE_PER_INCH, System};

    #[test]
    fn dimensions_read_as_the_trade_writes_them() {
        let us = |inches: f64| dimension(inches * METRE_PER_INCH, System::Us);
        assert_eq!(us(74.5), "6'-2-1/2\"");
        assert_eq!(us(72.0), "6'-0\"");
        assert_eq!(us(72.5), "6'-0-1/2\"");
        assert_eq!(us(2.75), "2-3/4\"");
        assert_eq!(us(0.1875), "3/16\"");
        assert_eq!(us(-18.0), "-1'-6\"");
        assert_eq!(us(0.0), "0\"");
        assert_eq!(us(1.03), "~1\"");
        assert_eq!(dimension(4.15, System::Metric), "4150");
        assert_eq!(dimension(0.0375, System::Metric), "37.5");
        assert_eq!(dimension(-0.15, System::Metric), "-150");
        assert_eq!(dimension(-1e-12, System::Metric), "0");
        assert_eq!(dimension(1.0 / 3.0, System::Metric), "~333.3");
    }

    #[test]
    fn a_text_is_cut_and_broken_to_fit() {
        let most = length("a wall plate", NORMAL);
        assert_eq!(lines("a wall plate on a wall", NORMAL, most), ["a wall plate", "on a wall"]);
        assert_eq!(cut("a wall plate", NORMAL, most), "a wall plate");
        assert!(length(&cut("a wall plate on a wall", NORMAL, most), NORMAL) <= most);
    }
}

mod places {
    use wallplate::papers::rolling::places::places;
    use wallplate::units::{METRE_PER_INCH as INCH, System};

    #[test]
    fn round_places_and_named_ones_each_once() {
        let all = places(-0.04, 4.325, [0.05, 4.2, 4.251_32, 9.0], System::Metric);
        assert_eq!(all.first(), Some(&-0.04));
        assert_eq!(all.last(), Some(&4.325));
        assert!(all.contains(&4.251_32) && all.contains(&4.2) && !all.contains(&9.0));
        assert!(all.windows(2).all(|pair| pair[1] - pair[0] >= 1e-4), "{all:?}");
        assert!(all.iter().any(|at| (at - 2.15).abs() < 1e-12), "{all:?}");
        assert!(all.len() <= 110, "{}", all.len());
    }

    #[test]
    fn a_us_design_is_read_off_a_us_tape() {
        let all = places(0.0, 12.0 * 0.3048, [], System::Us);
        assert!(all.iter().any(|at| (at - 10.0 * INCH).abs() < 1e-12), "{all:?}");
        assert!(all.len() <= 110);
    }
}
